"""What stands around the pages of a phone site: for browsers, for hosts, for staff, and for codes no longer in use."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from pathlib import Path
from urllib.parse import urlsplit

from markupsafe import Markup

from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.translated import TranslatedSheet
from aftercare.page.html import SheetRenderer, calls, environment, interpreter, value_link
from aftercare.page.phone import asset, inline_pictogram, more, policy
from aftercare.pictures import PICTOGRAMS
from aftercare.pictures.style import INK
from aftercare.site.pages import Sheets
from aftercare.site.publish import WITHDRAWN, Page
from aftercare.site.record import HEADERS_SIGNATURE

# What a host sends with every file. `frame-ancestors` works only as a header, never inside a page.
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=(), browsing-topics=()",
    "Content-Security-Policy": "frame-ancestors 'none'; base-uri 'none'; form-action 'none'; object-src 'none'",
    "Cache-Control": "no-cache",
}
# Files whose names hold their own content's hash, and what they may be kept for.
LASTING_FILES = "more-"
LASTING = {"Cache-Control": "public, max-age=31536000, immutable"}


@dataclass(frozen=True, slots=True)
class Listed:
    """A sheet in a list: its code, its name and material in the list's language, and its edition in each language."""

    code: str
    name: Markup
    material: Markup
    editions: dict[str, str]


def site_files(sheets: Sequence[Sheets], pages: Sequence[Page], templates: Path, address: str) -> Iterator[Page]:
    """All files of the site besides the patients' pages `pages`; `address` is where patients find it."""
    script = more(templates)
    yield page(script.path, script.text)
    yield page("icon.svg", icon())
    yield page("robots.txt", "User-agent: *\nDisallow: /\n")
    languages = offered(sheets)
    yield page("_headers", headers(languages))
    english = {sheet.code: sheet.translated[SOURCE] for sheet in sheets if SOURCE in sheet.translated}
    if english:
        yield page("index.html", staff_index(sheets, templates))
    firsts = [next(sheet.translated[one.tag] for sheet in sheets if one.tag in sheet.translated) for one in languages]
    if firsts:
        yield page("404.html", lost(firsts, templates, urlsplit(address).path))
    for language in languages:
        mine = [sheet for sheet in sheets if language.tag in sheet.translated]
        first = mine[0].translated[language.tag]
        yield page(f"{language.path}/index.html", home(mine, first, templates))
        yield page(f"{language.path}/manifest.webmanifest", manifest(first))
        yield page(f"{language.path}/worker.js", worker(language, pages, templates))


def offered(sheets: Sequence[Sheets]) -> tuple[Language, ...]:
    """The languages that at least one sheet can be had in, the clinic's first language first."""
    return tuple(dict.fromkeys(language for sheet in sheets for language in sheet.languages))


def page(path: str, text: str) -> Page:
    """A small file, known by its own content."""
    return Page(path, text, blake2b(text.encode(), digest_size=16).hexdigest())


def icon() -> str:
    """A sheet of paper on ink: the picture of the site in a browser's tab and on a home screen."""
    ground = f'<rect x="-8" y="-8" width="48" height="48" rx="9" fill="{INK}"/>'
    drawn = f'<g fill="none" stroke="#fff" stroke-width="2.5" stroke-linejoin="round">{PICTOGRAMS["sheet"]}</g>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-8 -8 48 48">{ground}{drawn}</svg>\n'


def headers(languages: Iterable[Language]) -> str:
    """Response headers as common static hosts read them. No file falls under two rules that set the same one: such hosts join
    the values, and a browser then obeys neither.
    """
    everywhere = {name: value for name, value in HEADERS.items() if name != "Cache-Control"}
    fresh = {"Cache-Control": HEADERS["Cache-Control"]}
    rules = [("/*", everywhere), (f"/{LASTING_FILES}*", LASTING), ("/", fresh), ("/archive/*", fresh)]
    rules += [(f"/{language.path}/*", fresh) for language in languages]
    lines = [HEADERS_SIGNATURE]
    for path, fields in rules:
        lines += [path, *(f"  {name}: {value}" for name, value in fields.items())]
    return "\n".join(lines) + "\n"


def manifest(translated: TranslatedSheet) -> str:
    """What a phone needs to put a page on its home screen. Without `start_url`: it opens the page it was made from."""
    renderer, language = SheetRenderer(translated), translated.language
    name = renderer.plain(translated.sheet.labels["phone_app_name"])
    fields = {
        "name": f"{name} · {translated.values['clinic_name'].text}",
        "short_name": name,
        "lang": language.tag,
        "dir": str(language.direction),
        "scope": "./",
        "display": "standalone",
        "background_color": "#ffffff",
        "theme_color": INK,
        "icons": [{"src": "../icon.svg", "sizes": "any", "type": "image/svg+xml", "purpose": "any"}],
    }
    return json.dumps(fields, ensure_ascii=False, indent=1) + "\n"


def worker(language: Language, pages: Sequence[Page], templates: Path) -> str:
    """The service worker of a language; it changes whenever one of its pages does."""
    made = blake2b(digest_size=8)
    for one in pages:
        if one.path.startswith(f"{language.path}/"):
            made.update(f"{one.path} {one.key}\n".encode())
    return asset(templates, "worker.js").replace("@edition@", made.hexdigest())


def staff_index(sheets: Sequence[Sheets], templates: Path) -> str:
    """The list of all sheets with their codes and editions, for staff."""
    first = next(sheet.translated[SOURCE] for sheet in sheets if SOURCE in sheet.translated)
    listed = _listed(sheets, SOURCE)
    return _plain("staff", first, "Published sheets", "", templates, sheets=listed, languages=offered(sheets))


def home(sheets: Sequence[Sheets], translated: TranslatedSheet, templates: Path) -> str:
    """The list of all sheets of one language, for a patient whose address lost its end."""
    title = SheetRenderer(translated).label("phone_home_title")
    return _plain("home", translated, title, "../", templates, sheets=_listed(sheets, translated.language.tag), called=True)


def lost(firsts: Sequence[TranslatedSheet], templates: Path, root: str) -> str:
    """What a host shows for an address it does not have, in every language, one sheet of each in `firsts`. It stands at any
    depth, so that its links begin at the `root` of the site on its host.
    """
    said = [SheetRenderer(translated, value_link) for translated in firsts]
    title, script = said[0].label("phone_lost_title"), asset(templates, "lost.js")
    return _plain("lost", firsts[0], title, root, templates, script, said=said, called=True)


def withdrawn(path: str, sheets: Sequence[Sheets], templates: Path) -> Page | None:
    """The page that stays at the path of a code no longer in use, in its language where we still have it, else in English.

    None where the sheet only waits for a translation: the page its readers had, whose every sentence was once sound, helps them
    more than one that sends them away.
    """
    folder, code = path.split("/")[:2]
    tag = next((tag for tag, language in LANGUAGES.items() if language.path == folder), SOURCE)
    if any(sheet.code == code and tag in sheet.waiting for sheet in sheets):
        return None
    translated = next(sheet.translated[wanted] for wanted in (tag, SOURCE) for sheet in sheets if wanted in sheet.translated)
    title = SheetRenderer(translated).label("phone_withdrawn_title")
    text = _plain("withdrawn", translated, title, "../../", templates, code=code, languages=offered(sheets), called=True)
    return Page(path, text, blake2b(text.encode(), digest_size=16).hexdigest(), WITHDRAWN)


def _listed(sheets: Sequence[Sheets], tag: str) -> list[Listed]:
    found = []
    for sheet in sheets:
        if (translated := sheet.translated.get(tag)) is not None:
            html = SheetRenderer(translated).html
            editions = {other: one.edition for other, one in sheet.translated.items()}
            found.append(Listed(sheet.code, html(translated.sheet.name), html(translated.sheet.material), editions))
    return sorted(found, key=lambda one: (one.name, one.material))


def _plain(
    name: str,
    translated: TranslatedSheet,
    title: str,
    root: str,
    templates: Path,
    script: str = "",
    *,
    called: bool = False,
    **more_words: object,
) -> str:
    renderer = SheetRenderer(translated, value_link)
    style = asset(templates, "page.css") + asset(templates, "plain.css")
    return (
        environment(templates)
        .get_template(f"phone/{name}.html")
        .render(
            language=translated.language,
            title=title,
            root=root,
            label=renderer.label,
            calls=calls(renderer) if called else (),
            interpreter=interpreter(renderer),
            pictogram=inline_pictogram,
            style=Markup(style),
            script=Markup(script),
            policy=policy(style, script),
            **more_words,
        )
    )
