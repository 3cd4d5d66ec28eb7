"""What stands around the pages of a phone site: for browsers, for hosts, for staff, and for codes no longer in use."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import blake2b
from urllib.parse import urlsplit

from markupsafe import Markup

from aftercare.language.languages import LANGUAGES, SOURCE, Language
from aftercare.language.translated import TranslatedSheet
from aftercare.page.body import Labels
from aftercare.page.html import SheetRenderer, calls, interpreter, value_link
from aftercare.page.phone import PhoneFrame
from aftercare.page.phone_assets import asset, policy
from aftercare.page.templates import Templates
from aftercare.pictures import pictogram_paths
from aftercare.pictures.style import INK
from aftercare.sheet.sheet import FullSheet
from aftercare.site.pages import SheetInLanguages
from aftercare.site.publish import LIST, WITHDRAWN, Page
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


def site_files(sheets: Sequence[SheetInLanguages], pages: Sequence[Page], frame: PhoneFrame) -> Iterator[Page]:
    """All files of the site besides the patients' pages `pages`."""
    script = frame.assets.deferred
    yield Page(script.path, script.text)
    yield Page("icon.svg", icon(frame.library.pictograms["sheet"]))
    yield Page("robots.txt", "User-agent: *\nDisallow: /\n")
    languages = offered(sheets)
    yield Page("_headers", headers(languages))
    if any(SOURCE in sheet.translated for sheet in sheets):
        yield Page("index.html", staff_index(sheets, frame))
    examples = {
        language: next(sheet.translated[language.tag] for sheet in sheets if language.tag in sheet.translated)
        for language in languages
    }
    if examples:
        yield Page("404.html", not_found(tuple(examples.values()), frame, urlsplit(frame.library.clinic.phone_site).path))
    for language, example in examples.items():
        in_language = [sheet for sheet in sheets if language.tag in sheet.translated]
        yield Page(f"{language.path}/index.html", home(in_language, example, frame), LIST)
        yield Page(f"{language.path}/manifest.webmanifest", manifest(example))
        yield Page(f"{language.path}/worker.js", worker(language, pages, frame.templates))


def offered(sheets: Sequence[SheetInLanguages]) -> tuple[Language, ...]:
    """The languages that at least one sheet can be had in, the clinic's first language first."""
    return tuple(dict.fromkeys(language for sheet in sheets for language in sheet.languages))


def icon(svg: str) -> str:
    """The icon of the site in a browser's tab and on a home screen: the pictogram `svg` in white on ink."""
    ground = f'<rect x="-8" y="-8" width="48" height="48" rx="9" fill="{INK}"/>'
    drawn = f'<g fill="none" stroke="#fff" stroke-width="2.5" stroke-linejoin="round">{pictogram_paths(svg)}</g>'
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


def manifest(translated: TranslatedSheet[FullSheet]) -> str:
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


def worker(language: Language, pages: Sequence[Page], templates: Templates) -> str:
    """The service worker of a language; it changes whenever one of its pages does."""
    digest = blake2b(digest_size=8)
    for page in pages:
        if page.path.startswith(f"{language.path}/"):
            digest.update(f"{page.path}\n{page.text}\n".encode())
    return asset(templates, "worker.js").replace("@edition@", digest.hexdigest())


def staff_index(sheets: Sequence[SheetInLanguages], frame: PhoneFrame) -> str:
    """The list of all sheets with their codes and editions, for staff."""
    first = next(sheet.translated[SOURCE] for sheet in sheets if SOURCE in sheet.translated)
    listed = _listed(sheets, SOURCE)
    return _plain("staff", first, "Published sheets", "", frame, sheets=listed, languages=offered(sheets))


def home(sheets: Sequence[SheetInLanguages], translated: TranslatedSheet[FullSheet], frame: PhoneFrame) -> str:
    """The list of all sheets of one language, for a patient whose address lost its end."""
    title = SheetRenderer(translated).label("phone_home_title")
    return _plain("home", translated, title, "../", frame, sheets=_listed(sheets, translated.language.tag), called=True)


def not_found(examples: Sequence[TranslatedSheet[FullSheet]], frame: PhoneFrame, root: str) -> str:
    """The page a host shows for an address it does not have, in the language of each example. It may stand at any depth, so its
    links begin at the `root` of the site on its host.
    """
    renderers = [SheetRenderer(translated, value_link) for translated in examples]
    title, script = renderers[0].label("phone_lost_title"), asset(frame.templates, "not_found.js")
    return _plain("not_found", examples[0], title, root, frame, script, renderers=renderers, called=True)


def withdrawn(path: str, sheets: Sequence[SheetInLanguages], frame: PhoneFrame) -> Page | None:
    """The page that stays at the path of a code or list no longer in use, in its language if we still have it, else in English.

    None where the sheet only waits for a translation: the page its readers had, whose every sentence was once sound, helps them
    more than one that sends them away.
    """
    folder, *rest = path.split("/")
    code = rest[0] if len(rest) > 1 else ""  # none at the path of a list
    tag = next((tag for tag, language in LANGUAGES.items() if language.path == folder), SOURCE)
    if any(sheet.code == code and tag in sheet.waiting for sheet in sheets):
        return None
    translated = next(sheet.translated[wanted] for wanted in (tag, SOURCE) for sheet in sheets if wanted in sheet.translated)
    title = SheetRenderer(translated).label("phone_withdrawn_title")
    text = _plain(
        "withdrawn",
        translated,
        title,
        "../../" if code else "../",
        frame,
        code=code,
        languages=offered(sheets),
        called=True,
    )
    return Page(path, text, WITHDRAWN)


def _listed(sheets: Sequence[SheetInLanguages], tag: str) -> list[Listed]:
    found = []
    for sheet in sheets:
        if (translated := sheet.translated.get(tag)) is not None:
            html = SheetRenderer(translated).html
            editions = {other: one.edition for other, one in sheet.translated.items()}
            found.append(Listed(sheet.code, html(translated.sheet.device.name), html(translated.sheet.material.name), editions))
    return sorted(found, key=lambda one: (one.name, one.material))


def _plain(
    name: str,
    translated: TranslatedSheet[FullSheet],
    title: str,
    root: str,
    frame: PhoneFrame,
    script: str = "",
    *,
    called: bool = False,
    **more_words: object,
) -> str:
    renderer = SheetRenderer(translated, value_link)
    style = asset(frame.templates, "page.css") + asset(frame.templates, "plain.css")
    return frame.templates.render(
        f"phone/{name}.html",
        language=translated.language,
        title=title,
        root=root,
        labels=Labels(renderer),
        calls=calls(renderer) if called else (),
        interpreter=interpreter(renderer),
        icons=frame.pictograms,
        style=Markup(style),
        script=Markup(script),
        policy=policy(style, script),
        **more_words,
    )
