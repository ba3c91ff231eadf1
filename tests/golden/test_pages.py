"""The pages (--format html) by their elements: what must be seen comes first, rows become blocks on narrow
screens and on paper, a verdict is set apart, no two words of a drawing lie on each other.

No browser is needed; look_at_pages.py looks with one.
"""

import re
import sys
from html.parser import HTMLParser

import harness
from harness import EXAMPLES, JUNIPER, ROOT, need

MARLPIT = ROOT / "examples" / "room-marlpit-cellar.yaml"
VOID = {"meta", "br", "img", "input", "link", "path", "rect"}

# From which width of the screen on a table of a class has rows side by side, in em of 16 px.
WIDTHS = {"fits": 290 / 16, "from36": 36, "from48": 48, "from64": 64, "from74": 74}


# ---- reading -------------------------------------------------------------------------------------


class Element:
    def __init__(self, tag, attributes, parent):
        self.tag, self.attributes, self.parent = tag, dict(attributes), parent
        self.children = []

    def classes(self):
        return (self.attributes.get("class") or "").split()

    def text(self):
        return "".join(c if isinstance(c, str) else c.text() for c in self.children)

    def all(self, tag=None, css_class=None):
        for child in self.children:
            if isinstance(child, str):
                continue
            if tag in (None, child.tag) and (css_class is None or css_class in child.classes()):
                yield child
            yield from child.all(tag, css_class)

    def ancestors(self):
        at = self.parent
        while at is not None:
            yield at
            at = at.parent


class Reader(HTMLParser):
    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.root = self.at = Element("root", {}, None)

    def handle_starttag(self, tag, attrs):
        element = Element(tag, attrs, self.at)
        self.at.children.append(element)
        if tag not in VOID:
            self.at = element

    def handle_startendtag(self, tag, attrs):
        self.at.children.append(Element(tag, attrs, self.at))

    def handle_endtag(self, tag):
        need(self.at.tag == tag, f"</{tag}> closes <{self.at.tag}>")
        self.at = self.at.parent

    def handle_data(self, data):
        self.at.children.append(data)


def page(h, *args, code=0):
    reader = Reader()
    reader.feed(h.run(*args, "--format", "html", code=code).out)
    reader.close()
    need(reader.at is reader.root, "an element is not closed")
    return reader.root


def style_of(root):
    return "".join(style.text() for style in root.all("style"))


def media(style, condition):
    """What is in the blocks of a @media, without its braces."""
    found = []
    for match in re.finditer(r"@media ([^{]*)\{", style):
        if match.group(1).strip() != condition:
            continue
        depth, at = 1, match.end()
        while depth > 0:
            depth += {"{": 1, "}": -1}.get(style[at], 0)
            at += 1
        found.append(style[match.end():at - 1])
    return "\n".join(found)


def headings(table):
    row = next(next(table.all("thead")).all("tr"))
    return [" ".join(cell.text().split()) for cell in row.children if not isinstance(cell, str)]


def all_pages(h):
    """Pages of every kind, over all examples."""
    for kiln in EXAMPLES:
        yield f"estimate {kiln.stem}", page(h, "estimate", kiln)
        yield f"check {kiln.stem}", page(h, "check", kiln)
        yield f"sweep {kiln.stem}", page(h, "sweep", kiln, "--vary", "damper=10,50,100%", "--vary",
                                         "temperature=900 degC,1250 degC")
        yield f"oxides {kiln.stem}", page(h, "oxides", kiln, "--temperature", "1240 degC")
        yield f"oxides sweep {kiln.stem}", page(h, "oxides", kiln, "--temperature", "1240 degC", "--vary",
                                                "damper=20,60,100%", "--glaze", "celadon")
        yield f"ladder {kiln.stem}", page(h, "ladder", kiln, "--temperature", "1240 degC")
    for kiln in (MARLPIT, ROOT / "examples" / "room-saltholme-yard.yaml"):
        yield f"room {kiln.stem}", page(h, "room", kiln)
        yield f"room sweep {kiln.stem}", page(h, "room", kiln, "--vary", "damper=10,60,100%")
    yield "exposure", page(h, "exposure", "--ppm", "60", "--hours", "4")
    yield "oxides --at", page(h, "oxides", "--at", "1250 degC..750 degC:100 degC", "--co-co2", "0.05")
    yield "why", page(h, "why")
    yield "working", page(h, "estimate", JUNIPER, "--working")
    yield "sweep us", page(h, "sweep", JUNIPER, "--vary", "damper=0..100%:20%", "--units", "us")


# ---- tables --------------------------------------------------------------------------------------


def test_hazards_come_first_and_are_named(h):
    root = page(h, "sweep", JUNIPER, "--vary", "damper=0..100%:10%", "--vary", "gas_pressure=1 kPa,2 kPa")
    table = next(root.all("table"))
    names = headings(table)
    need(names[:4] == ["damper %", "gas_pressure kPa", "reduction", "hazards"] or
         names[2:4] == ["reduction", "hazards"], f"word and hazards are not first: {names}")
    place = names.index("hazards")
    seen = set()
    for row in next(table.all("tbody")).all("tr"):
        cells = list(row.all("td"))
        words = cells[place].text()
        need(not re.fullmatch(r"\d+", words), f"hazards are a number: {words}")
        bad = words != "-"
        need(("bad" in row.classes()) == bad and ("tone-bad" in cells[place].classes()) == bad,
             f"'{words}' looks like the other rows")
        seen.add(bad)
    need(seen == {True, False}, "the sweep has not both kinds of rows")
    # The same hazards as the CSV.
    csv = h.run("sweep", JUNIPER, "--vary", "damper=0%", "--format", "csv").out.splitlines()
    codes = dict(zip(csv[0].split(","), csv[1].split(",")))["hazards"]
    alone = page(h, "sweep", JUNIPER, "--vary", "damper=0%")
    shown = [c.text() for c in alone.all("td", "tone-bad")]
    need(shown == [codes.replace(" ", ", ").replace("-", " ")], f"{shown} is not {codes}")


def test_no_table_hides_anything_at_the_side(h):
    sizes = set()
    for name, root in all_pages(h):
        style = style_of(root)
        for table in root.all("table"):
            box = table.parent
            width = [c for c in box.classes() if c != "wide"]
            need("wide" in box.classes() and len(width) == 1, f"{name}: {box.classes()}")
            sizes.add(width[0])
            if width[0] == "scrolls":
                need(box.attributes.get("tabindex") == "0", f"{name}: scrolls for the mouse alone")
                need(f".{width[0]}" in media(style, "screen and (max-width:74em)"),
                     f"{name}: no blocks for .{width[0]}")
            elif width[0] != "fits":
                em = WIDTHS[width[0]]
                block = media(style, f"screen and (max-width:{em}em)")
                for part in ("thead{position:absolute", "tr{display:flex", "content:attr(data-label)"):
                    need(f".{width[0]}" in block and part in block, f"{name}: {width[0]} lacks {part}")
            if width[0] in ("from64", "from74", "scrolls"):
                paper = media(style, "print")
                need(f".{width[0]}" in paper and "content:attr(data-label)" in paper,
                     f"{name}: too wide for paper")
            for cell in next(table.all("tbody")).all("td"):
                need("data-label" in cell.attributes, f"{name}: a cell without the name of its column")
    need({"fits", "from36", "from48", "from64", "from74"} <= sizes, f"only {sizes}")


def test_a_table_is_no_wider_than_its_class_says(h):
    """By letters of 0.56 of their size, the mean of a wide system font, and 20 px between columns."""
    letter, between = 0.56 * 14.4, 20.0
    for name, root in all_pages(h):
        for table in root.all("table"):
            width = next(c for c in table.parent.classes() if c != "wide")
            if width == "scrolls":
                continue
            columns = {}
            for row in table.all("tr"):
                at = 0
                for cell in row.children:
                    if isinstance(cell, str):
                        continue
                    if "reason" not in cell.classes():
                        lines = cell.text().split("\n")
                        if "text" in cell.classes() and cell.tag == "td":
                            lines = cell.text().split()   # such a cell breaks its lines
                        longest = max(map(len, lines), default=0)
                        columns[at] = max(columns.get(at, 0), longest)
                    at += int(cell.attributes.get("colspan", 1))
            px = sum(letter * n + between for n in columns.values()) - between
            need(px <= 16.0 * WIDTHS[width], f"{name}: {px:.0f} px for {width}")


def test_every_cell_has_the_heading_of_its_column(h):
    for name, root in all_pages(h):
        for table in root.all("table"):
            if not list(table.all("thead")):
                continue
            names = headings(table)
            for row in next(table.all("tbody")).all("tr"):
                cells = list(row.all("td"))
                if any("reason" in c.classes() for c in cells):
                    continue
                need(len(cells) == len(names), f"{name}: {len(cells)} cells for {names}")
                for cell, heading in zip(cells, names):
                    told = cell.attributes["data-label"] + " " + cell.attributes.get("data-unit", "")
                    plain = [re.sub(r"[\s-]+", "", word) for word in (told, heading)]
                    need(plain[0] in plain[1], f"{name}: '{told}' under '{heading}'")


def test_columns_keep_apart(h):
    style = style_of(page(h, "sweep", JUNIPER, "--vary", "damper=50%"))
    space = re.search(r"th,td\{padding:\S+ ([\d.]+)rem", style)
    need(space and float(space.group(1)) >= 1.0, "columns run together")


def test_readers_of_the_screen_find_their_way(h):
    for name, root in all_pages(h):
        need(len(list(root.all("main"))) == 1, f"{name}: no <main>")
        for cell in root.all("th"):
            need(cell.text().strip(), f"{name}: an empty <th>")
            need(cell.attributes.get("scope") == "col", f"{name}: a <th> without scope")


# ---- verdicts ------------------------------------------------------------------------------------


def test_a_verdict_is_set_apart(h):
    for args, tone, word in (
            (["room", MARLPIT], "tone-bad", "dangerous"),
            (["exposure", "--ppm", "400", "--hours", "6"], "tone-bad", "dangerous"),
            (["exposure", "--ppm", "20", "--hours", "1"], "tone-raised", "raised"),
            (["exposure", "--ppm", "1", "--hours", "1"], "tone-low", "low")):
        root = page(h, *args)
        found = [s for s in root.all("strong") if tone in s.classes()]
        need(len(found) == 1 and found[0].text().startswith(word), f"{args}: {[s.text() for s in found]}")
    root = page(h, "room", MARLPIT, "--set", "room.air_changes_per_hour=0", "--set",
                "room.exhaust_fan_flow=0 m3/h", code=4)
    need(any(s.text().startswith("not solved") and "tone-bad" in s.classes() for s in root.all("strong")),
         "a room that is not solved looks like any other")
    root = page(h, "room", MARLPIT, "--vary", "damper=10,60%")
    names = headings(next(root.all("table")))
    need(names[1].startswith("verdict"), f"the verdict is not first: {names}")
    for cell in root.all("td"):
        if cell.text() == "dangerous":
            need("tone-bad" in cell.classes(), "'dangerous' is ordinary type")
    root = page(h, "room", MARLPIT, "--set", "room.air_changes_per_hour=0", "--set",
                "room.exhaust_fan_flow=0 m3/h", "--vary", "damper=10,60%", code=4)
    for row in next(root.all("tbody")).all("tr"):
        cell = list(row.all("td"))[-1]
        need("treat as dangerous" in cell.text() and "tone-bad" in cell.classes() and "bad" in row.classes(),
             f"'{cell.text()}' is ordinary type")
    root = page(h, "estimate", JUNIPER, "--damper", "20%")
    grades = [b for b in root.all("b") if b.text() in ("HAZARD", "WARNING")]
    need(grades, "no hazards at 20 %")
    for b in grades:
        need({"HAZARD": "tone-bad", "WARNING": "tone-raised"}[b.text()] in b.classes(),
             f"{b.text()} is ordinary type")


def luminance(colour):
    colour = colour.lstrip("#")
    if len(colour) == 3:
        colour = "".join(2 * c for c in colour)
    parts = [int(colour[i:i + 2], 16) / 255 for i in (0, 2, 4)]
    parts = [p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(first, second):
    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_colours_have_contrast_by_day_and_night_and_on_paper(h):
    style = style_of(page(h, "room", MARLPIT))
    light = re.search(r"^:root\{([^}]*)\}", style, re.MULTILINE).group(1)
    dark = re.search(r":root\{([^}]*)\}", media(style, "(prefers-color-scheme:dark)")).group(1)
    paper = re.search(r":root\{([^}]*)\}", media(style, "print")).group(1)
    for name, text in (("light", light), ("dark", dark), ("paper", paper)):
        c = dict(re.findall(r"--([\w-]+):(#[0-9a-f]+)", text))
        for front, back in (("text", "paper"), ("second", "paper"), ("bad", "paper"), ("on-bad", "bad"),
                            ("on-raised", "raised")):
            ratio = contrast(c[front], c[back])
            need(ratio >= 4.5, f"{name}: {front} on {back} is {ratio:.1f} to 1")
    need("font-weight:700" in style, "a verdict has no weight")
    # Paper leaves backgrounds out: frame and black letters say it there.
    need(re.search(r"strong\.tone-bad[^}]*\{color:#000;border-width:3px\}", media(style, "print")),
         "a verdict is not seen on paper")


# ---- drawings ------------------------------------------------------------------------------------


def words_of(svg):
    """(text, left, top, right, bottom): letters 0.68 wide of their size, bold ones 0.75; ascent and descent
    of ordinary letters."""
    for t in svg.all("text"):
        x, y = float(t.attributes["x"]), float(t.attributes["y"])
        bold = "t" in t.classes()
        width = len(t.text()) * 10.0 * (0.75 if bold else 0.68)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[t.attributes["text-anchor"]] * width
        yield t.text(), left, y - 7.6, left + width, y + 2.3


def check_drawing(name, svg):
    size = list(map(float, svg.attributes["viewbox"].split()))
    words = list(words_of(svg))
    for i, (text, left, top, right, bottom) in enumerate(words):
        need(left >= 0.0 and top >= 0.0 and right <= size[2] and bottom <= size[3],
             f"{name}: '{text}' lies outside the drawing ({left:.0f} to {right:.0f}, {top:.0f})")
        for other, l, t, r, b in words[i + 1:]:
            over = min(right, r) - max(left, l), min(bottom, b) - max(top, t)
            need(not (over[0] > 0.5 and over[1] > 0.5), f"{name}: '{text}' on '{other}' by "
                 f"{over[0]:.0f} by {over[1]:.0f}")
    return [w[0] for w in words]


def test_no_word_of_a_drawing_lies_on_another(h):
    drawings = 0
    for kiln in EXAMPLES:
        for celsius in (520, 780, 1000, 1180, 1300, 1400):
            for more in ([], ["--set", "model.unmixedness=0"], ["--set", "model.unmixedness=20 %"]):
                root = page(h, "ladder", kiln, "--temperature", f"{celsius} degC", *more)
                for svg in root.all("svg"):
                    words = check_drawing(f"{kiln.stem} at {celsius} {more}", svg)
                    for word in ("oxidizing", "neutral", "light", "medium", "heavy"):
                        need(words.count(word) == 1, f"{kiln.stem}: '{word}' is there {words.count(word)} times")
                    forms = [w for w in words if re.fullmatch(r"[A-Z][a-z]?(\d?O\d?)?", w)
                             and w not in ("CO", "O2")]
                    need(len(forms) == len(set(forms)), f"{kiln.stem}: a form is there twice: {forms}")
                    drawings += 1
    need(drawings == 18 * len(EXAMPLES), f"{drawings} drawings")


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
