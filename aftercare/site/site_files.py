"""Renders the files of a phone site besides the patients' pages: for browsers, hosts and staff, and for withdrawn codes."""

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

# Response headers of every file. `frame-ancestors` works only as a header, not in a page's `meta` element.
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=(), browsing-topics=()",
    "Content-Security-Policy": "frame-ancestors 'none'; base-uri 'none'; form-action 'none'; object-src 'none'",
    "Cache-Control": "no-cache",
}
# Start of the names of files that hold the hash of their content, and the header by which they are cached for a year.
IMMUTABLE_PREFIX = "more-"
IMMUTABLE = {"Cache-Control": "public, max-age=31536000, immutable"}


@dataclass(frozen=True, slots=True)
class Listed:
    """A sheet in a list: its code, its name and material in the language of the list, and its editions by language tag."""

    code: str
    name: Markup
    material: Markup
    editions: dict[str, str]


def site_files(sheets: Sequence[SheetInLanguages], pages: Sequence[Page], frame: PhoneFrame) -> Iterator[Page]:
    """Render all files of the site besides the patients' pages `pages`."""
    script = frame.assets.deferred
    yield Page(script.path, script.text)
    yield Page("icon.svg", icon(frame.library.pictograms["sheet"]))
    yield Page("robots.txt", "User-agent: *\nDisallow: /\n")
    languages = published_languages(sheets)
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


def published_languages(sheets: Sequence[SheetInLanguages]) -> tuple[Language, ...]:
    """Return the languages in which at least one sheet is published, in the clinic's order."""
    return tuple(dict.fromkeys(language for sheet in sheets for language in sheet.languages))


def icon(svg: str) -> str:
    """Return the icon of the site as SVG: the pictogram `svg` in white on ink."""
    background = f'<rect x="-8" y="-8" width="48" height="48" rx="9" fill="{INK}"/>'
    lines = f'<g fill="none" stroke="#fff" stroke-width="2.5" stroke-linejoin="round">{pictogram_paths(svg)}</g>'
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-8 -8 48 48">{background}{lines}</svg>\n'


def headers(languages: Iterable[Language]) -> str:
    """Format the response headers as a `_headers` file, which common static hosts read.

    No file matches two rules that set the same header: hosts join the values, and browsers ignore the result.
    """
    common = {name: value for name, value in HEADERS.items() if name != "Cache-Control"}
    revalidated = {"Cache-Control": HEADERS["Cache-Control"]}
    rules = [("/*", common), (f"/{IMMUTABLE_PREFIX}*", IMMUTABLE), ("/", revalidated), ("/archive/*", revalidated)]
    rules += [(f"/{language.path}/*", revalidated) for language in languages]
    lines = [HEADERS_SIGNATURE]
    for path, fields in rules:
        lines += [path, *(f"  {name}: {value}" for name, value in fields.items())]
    return "\n".join(lines) + "\n"


def manifest(translated: TranslatedSheet[FullSheet]) -> str:
    """Format the web app manifest of a language. It has no `start_url`, so that an installed app opens the installed page."""
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
    """Return the service worker of a language. It holds a hash of the language's pages, so it changes when one of them does."""
    digest = blake2b(digest_size=8)
    for page in pages:
        if page.path.startswith(f"{language.path}/"):
            digest.update(f"{page.path}\n{page.text}\n".encode())
    return asset(templates, "worker.js").replace("@edition@", digest.hexdigest())


def staff_index(sheets: Sequence[SheetInLanguages], frame: PhoneFrame) -> str:
    """Render the list of all sheets with their codes and editions, for staff."""
    example = next(sheet.translated[SOURCE] for sheet in sheets if SOURCE in sheet.translated)
    listed = _listed(sheets, SOURCE)
    return _render("staff", example, "Published sheets", "", frame, sheets=listed, languages=published_languages(sheets))


def home(sheets: Sequence[SheetInLanguages], translated: TranslatedSheet[FullSheet], frame: PhoneFrame) -> str:
    """Render the list of all sheets of one language, for patients with an incomplete address."""
    title = SheetRenderer(translated).label("phone_home_title")
    return _render("home", translated, title, "../", frame, sheets=_listed(sheets, translated.language.tag), with_calls=True)


def not_found(examples: Sequence[TranslatedSheet[FullSheet]], frame: PhoneFrame, root: str) -> str:
    """Render the page for unknown addresses, in the language of each example.

    Hosts show it at any depth, so its links begin with `root`, the path of the site on its host.
    """
    renderers = [SheetRenderer(translated, value_link) for translated in examples]
    title, script = renderers[0].label("phone_lost_title"), asset(frame.templates, "not_found.js")
    return _render("not_found", examples[0], title, root, frame, script, renderers=renderers, with_calls=True)


def withdrawn(path: str, sheets: Sequence[SheetInLanguages], frame: PhoneFrame) -> Page | None:
    """Render the page that replaces a withdrawn page or list, in its language if that is still published, else in English.

    None where the sheet only lacks a translation: its earlier page, which was sound, helps patients more.
    """
    folder, *rest = path.split("/")
    code = rest[0] if len(rest) > 1 else ""  # the path of a list has none
    tag = next((tag for tag, language in LANGUAGES.items() if language.path == folder), SOURCE)
    if any(sheet.code == code and tag in sheet.untranslated for sheet in sheets):
        return None
    available = (sheet.translated[choice] for choice in (tag, SOURCE) for sheet in sheets if choice in sheet.translated)
    translated = next(available)
    title, root = SheetRenderer(translated).label("phone_withdrawn_title"), "../../" if code else "../"
    languages = published_languages(sheets)
    text = _render("withdrawn", translated, title, root, frame, code=code, languages=languages, with_calls=True)
    return Page(path, text, WITHDRAWN)


def _listed(sheets: Sequence[SheetInLanguages], tag: str) -> list[Listed]:
    """Return the sheets that have a translation into a language, sorted by name and material."""
    entries = []
    for sheet in sheets:
        if (translated := sheet.translated.get(tag)) is not None:
            html = SheetRenderer(translated).html
            editions = {other: translation.edition for other, translation in sheet.translated.items()}
            entries.append(
                Listed(sheet.code, html(translated.sheet.device.name), html(translated.sheet.material.name), editions)
            )
    return sorted(entries, key=lambda entry: (entry.name, entry.material))


def _render(
    name: str,
    translated: TranslatedSheet[FullSheet],
    title: str,
    root: str,
    frame: PhoneFrame,
    script: str = "",
    *,
    with_calls: bool = False,
    **values: object,
) -> str:
    """Render a template that extends `phone/plain.html`; `root` is the prefix of links from the page to the site's root."""
    renderer = SheetRenderer(translated, value_link)
    style = asset(frame.templates, "page.css") + asset(frame.templates, "plain.css")
    return frame.templates.render(
        f"phone/{name}.html",
        language=translated.language,
        title=title,
        root=root,
        labels=Labels(renderer),
        calls=calls(renderer) if with_calls else (),
        interpreter=interpreter(renderer),
        icons=frame.pictograms,
        style=Markup(style),
        script=Markup(script),
        policy=policy(style, script),
        **values,
    )
