"""One page that says what the numbers of this program were checked against, and how well they did.

    proof.py FOLDER

FOLDER holds the deviations of every check value, as the tests write them:

    proof_reference.csv, proof_cea.csv   test_reference and test_equilibrium_cea, --csv; must be there
    live.csv, second_opinion.csv         comparisons with other programs; said to be missing if so

The page goes to standard output and FOLDER/proof.txt, and as HTML to FOLDER/proof.html. laws.csv
beside this file says which law each number belongs to. The exit code is 1 when something does not
hold: a number over its tolerance, a number or a source file that no law names, a law that names
what is not there, fewer outside values than are asked for.
"""
import csv
import html
import os
import re
import statistics
import sys
import textwrap

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
LEAST_OUTSIDE = 400  # read or recalled, so not counting what was worked out
WIDTH = 100

CHAPTERS = {
    "1": "The picture", "2": "Air", "3": "Fuel", "4": "Gas jet", "5": "Burners", "6": "Openings",
    "7": "Flue, damper, stack", "8": "What burns", "9": "What it means for the ware", "10": "Heat",
    "11": "Carbon monoxide", "12": "Fitting to a kiln", "13": "Doubt", "14": "Closures",
}
LAW_COLUMNS = ["id", "section", "law", "files", "quantities", "live", "tests", "unchecked"]
DEVIATION_COLUMNS = ["table", "id", "quantity", "source", "provenance", "status", "expected",
                     "actual", "deviation", "tolerance"]
# A deviation is relative unless its unit says otherwise; the last column may be left out.
COMPARISON_COLUMNS = ["law", "source", "version", "count", "worst", "typical", "limit",
                      "provenance", "unit"]
# Folders whose every source file must belong to a law.
LAW_FOLDERS = ["physics", "model"]

# What a check value is worth, the best first.
KINDS = ["read", "recalled", "computed", "program", "live", "second", "own"]
OWN_KINDS = ("second", "own")  # no numbers from outside
KIND_WORDS = {
    "read": "read in the source, or in a public copy of it that is named",
    "recalled": "from memory, not read",
    "computed": "worked out apart from this program, from a published formula or published data",
    "program": "by another program (NASA CEA), stored",
    "live": "by other programs on random states, worked out afresh in this run",
    "second": "by a second program of ours for the same equations, in another language and by "
              "other methods; counts for nothing",
    "own": "own algebra, worked out a second time: shows that the code does what was meant, "
           "not that the law is right; counts for nothing",
}


def read_table(path, columns, may_lack=()):
    """Rows of a CSV file as dictionaries; lines that begin with # are comments."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    if rows and rows[0] == [name for name in columns if name not in may_lack]:
        columns = rows[0]
    if not rows or rows[0] != columns:
        raise SystemExit("%s: the first row must be %s" % (path, ",".join(columns)))
    for number, row in enumerate(rows[1:], 2):
        if len(row) != len(columns):
            raise SystemExit("%s: row %d has %d fields, not %d" % (path, number, len(row),
                                                                 len(columns)))
    return [dict(zip(columns, row)) for row in rows[1:]]


def read_sources(path):
    """key -> (title, provenance) of sources.yaml, whose entries are three plain lines each."""
    sources, key = {}, None
    with open(path, encoding="utf-8") as file:
        for line in file:
            match = re.match(r"\s*(?:- )?(key|title|provenance):\s*(.*?)\s*$", line)
            if not match or line.startswith("#"):
                continue
            name, value = match.groups()
            if len(value) > 1 and value[0] == value[-1] and value[0] in "'\"":
                value = value[1:-1]
            if name == "key":
                key = value
                sources[key] = {"title": "", "provenance": ""}
            elif key:
                sources[key][name] = value
    return sources


def ratio_of(deviation, tolerance):
    """A deviation as a part of its tolerance."""
    if deviation == 0.0:
        return 0.0
    return deviation / tolerance if tolerance else float("inf")


class Group:
    """Check values of one law that share source and kind."""

    def __init__(self, source, kind):
        self.source, self.kind, self.version = source, kind, ""
        self.count = 0
        self.relative, self.ratios = [], []
        self.worst_id = ""
        self.summary = None  # (worst, typical, limit) of a comparison
        self.unit = ""       # of those when they are not relative

    def add(self, row):
        deviation, tolerance = float(row["deviation"]), float(row["tolerance"])
        expected = abs(float(row["expected"]))
        ratio = ratio_of(deviation, tolerance)
        if not self.ratios or ratio > max(self.ratios):
            self.worst_id = row["id"]
        self.count += 1
        self.ratios.append(ratio)
        # Beside a value that is nothing within its tolerance, a relative deviation says nothing.
        if expected > tolerance:
            self.relative.append(deviation / expected)

    def figures(self):
        """Worst and typical deviation, relative to the value and to the tolerance."""
        if self.summary:
            worst, typical, limit = self.summary
            # A limit of nought asks for equality: a count of what is wrong.
            return worst, typical, ratio_of(worst, limit), ratio_of(typical, limit)
        relative = (max(self.relative), statistics.median(self.relative)) if self.relative else (
            None, None)
        return relative + (max(self.ratios), statistics.median(self.ratios))


def kind_of(row, sources):
    """Which of KINDS a row is: a number worked out from own algebra is no outside number."""
    source = sources.get(row["source"], {"provenance": ""})
    if row["source"] == "cea":
        return "program"
    if row["provenance"] in ("read", "recalled"):
        return row["provenance"]
    if row["provenance"] == "computed" and source["provenance"] in ("read", "recalled", "computed"):
        return "computed"
    return "own"


class Proof:
    def __init__(self, folder):
        self.folder = folder
        self.faults = []
        self.notes = []
        self.sources = read_sources(os.path.join(ROOT, "config", "sources.yaml"))
        self.laws = read_table(os.path.join(HERE, "laws.csv"), LAW_COLUMNS)
        for law in self.laws:
            for name in ("files", "quantities", "live", "tests"):
                law[name] = law[name].split()
            law["groups"] = {}
            law["refused"] = 0
        self.rows = []
        for name in ("proof_reference.csv", "proof_cea.csv"):
            path = os.path.join(folder, name)
            self.rows += read_table(path, DEVIATION_COLUMNS)
        self.comparisons = []
        for name, what in (("live.csv", "live comparison with other programs"),
                           ("second_opinion.csv", "comparison with the second program")):
            path = os.path.join(folder, name)
            if os.path.exists(path):
                self.comparisons += read_table(path, COMPARISON_COLUMNS, ("unit",))
            else:
                self.notes.append("The %s was not run: no %s here." % (what, name))
        self.real = [law for law in self.laws if law["section"] != "-"]
        self.known_failures = [row for row in self.rows if row["status"] == "known-failure"]
        self.check_laws()
        self.place_rows()
        self.place_comparisons()
        self.check_coverage()
        self.count()

    def fault(self, text, *arguments):
        self.faults.append(text % arguments)

    def check_laws(self):
        seen = set()
        for law in self.laws:
            if law["id"] in seen and law["id"] != "-":
                self.fault("laws.csv: two laws are called %s", law["id"])
            seen.add(law["id"])
            if law["section"] != "-" and law["section"] not in CHAPTERS:
                self.fault("laws.csv: %s is of no section of the model: %s", law["id"],
                           law["section"])
            if law["section"] != "-" and not law["files"]:
                self.fault("laws.csv: no file of src/ holds %s", law["id"])
            for name in law["files"]:
                if not os.path.isfile(os.path.join(ROOT, "src", name)):
                    self.fault("laws.csv: %s names src/%s, which is not there", law["id"], name)
            for name in law["tests"]:
                if not os.path.isfile(os.path.join(ROOT, "tests", name)):
                    self.fault("laws.csv: %s names tests/%s, which is not there", law["id"], name)
        named = {name for law in self.laws for name in law["files"]}
        for folder in LAW_FOLDERS:
            for name in sorted(os.listdir(os.path.join(ROOT, "src", folder))):
                if name.endswith(".c") and folder + "/" + name not in named:
                    self.fault("src/%s/%s is named by no law", folder, name)

    def place_rows(self):
        owners = {}
        for law in self.laws:
            for name in law["quantities"]:
                if name in owners:
                    self.fault("laws.csv: %s and %s both name the quantity %s", owners[name]["id"],
                               law["id"], name)
                owners[name] = law
        there = {row["quantity"] for row in self.rows}
        for name, law in owners.items():
            if name not in there:
                self.fault("laws.csv: %s names the quantity %s, which no table holds", law["id"],
                           name)
        for name in sorted(there - set(owners)):
            self.fault("the quantity %s belongs to no law", name)
        for row in self.rows:
            law = owners.get(row["quantity"])
            if row["source"] not in self.sources:
                self.fault("%s: the source %s is not in sources.yaml", row["id"], row["source"])
            if law is None or row["status"] == "known-failure":
                continue
            if row["status"] == "fails":
                law["refused"] += 1
                if row["actual"] not in ("nan", "-nan"):
                    self.fault("%s: gives %s, should be refused", row["id"], row["actual"])
                continue
            if not float(row["deviation"]) <= float(row["tolerance"]):
                self.fault("%s: %s is %s, should be %s within %s", row["id"], row["quantity"],
                           row["actual"], row["expected"], row["tolerance"])
            key = (row["source"], kind_of(row, self.sources))
            law["groups"].setdefault(key, Group(*key)).add(row)

    def place_comparisons(self):
        owners = {}
        for law in self.real:
            for name in [law["id"]] + law["live"]:
                if name in owners:
                    self.fault("laws.csv: %s and %s both go by %s", owners[name]["id"], law["id"],
                               name)
                owners[name] = law
        for row in self.comparisons:
            law = owners.get(row["law"])
            if law is None:
                self.fault("a comparison with %s is of no law: %s", row["source"], row["law"])
                continue
            kind = "live" if row["provenance"] == "live" else "second"
            key = (row["source"], kind, row["law"], row["version"], len(law["groups"]))
            group = law["groups"].setdefault(key, Group(row["source"], kind))
            group.version, group.unit = row["version"], row.get("unit", "")
            group.count = int(row["count"])
            group.summary = tuple(float(row[name]) for name in ("worst", "typical", "limit"))
            if not group.summary[0] <= group.summary[2]:
                self.fault("%s against %s: off by %s, limit %s", law["id"], row["source"],
                           row["worst"], row["limit"])

    @staticmethod
    def outside(law):
        return [group for group in law["groups"].values() if group.kind not in OWN_KINDS]

    def check_coverage(self):
        for law in self.real:
            if not self.outside(law) and not law["unchecked"]:
                self.fault("laws.csv: %s has no number from outside and does not say why",
                           law["id"])
            if not self.outside(law) and not law["groups"] and not law["tests"]:
                self.fault("laws.csv: nothing at all checks %s", law["id"])
        self.checked = [law for law in self.real if self.outside(law)]
        self.unchecked = [law for law in self.real if not self.outside(law)]

    def count(self):
        self.values = dict.fromkeys(KINDS, 0)
        self.refused = 0
        self.over = 0
        self.worst = (0.0, "", "")
        for law in self.real:
            self.refused += law["refused"]
            for group in law["groups"].values():
                self.values[group.kind] += group.count
                ratio = group.figures()[2]
                self.over += sum(1 for r in group.ratios if not r <= 1.0)
                self.over += 1 if group.summary and not ratio <= 1.0 else 0
                if ratio > self.worst[0]:
                    self.worst = (ratio, law["id"], group.worst_id or group.source)
        self.yardsticks = sum(group.count for law in self.laws if law["section"] == "-"
                              for group in law["groups"].values())
        self.outside_values = sum(self.values[kind] for kind in KINDS if kind not in OWN_KINDS)
        self.published = self.values["read"] + self.values["recalled"]
        if self.published < LEAST_OUTSIDE:
            self.fault("only %d values read or recalled, at least %d are asked for",
                       self.published, LEAST_OUTSIDE)
        self.unlisted = sum(1 for fault in self.faults if fault.endswith("by no law"))

    def title(self, group):
        known = self.sources.get(group.source)
        title = known["title"] if known else ""
        return " ".join(part for part in (title, group.version) if part)


def percent(value, unit=""):
    """A relative deviation, short, or one with a unit."""
    if value is None:
        return "-"
    if value == 0.0:
        return "0"
    if unit:
        return "%.1g %s" % (value, unit)
    if value >= 1e-4:
        return "%.2g %%" % (100.0 * value)
    return re.sub(r"e-0?", "e-", "%.0e" % value)


def share(value):
    """A part of the tolerance."""
    if value == 0.0:
        return "0"
    return "%.2f" % value if value >= 0.01 else "<0.01"


def totals(proof):
    """(number, what it counts) for the head of the page."""
    lines = [(len(proof.real), "laws"),
             (len(proof.checked), "of them stand against numbers from outside"),
             (len(proof.unchecked), "have none; each says why, below"),
             (proof.unlisted, "source files that no law names"),
             (proof.outside_values, "outside check values")]
    lines += [(proof.values[kind], "  %s: %s" % (kind, KIND_WORDS[kind])) for kind in KINDS
              if kind not in OWN_KINDS]
    lines += [(proof.published, "read and recalled together")]
    lines += [(proof.values[kind], "%s: %s" % (kind, KIND_WORDS[kind])) for kind in OWN_KINDS]
    lines += [(proof.refused, "inputs that must be refused, and are"),
              (proof.over, "deviations over their tolerance"),
              (len(proof.known_failures), "published numbers known to be off, listed below"),
              (proof.yardsticks, "formulas of the sources themselves, not of the program; "
                                 "count for nothing")]
    return lines


def by_chapter(laws):
    for section in CHAPTERS:
        here = [law for law in laws if law["section"] == section]
        if here:
            yield section, here


def ordered(law):
    return sorted(law["groups"].values(), key=lambda g: (KINDS.index(g.kind), g.source))


def wrapped(text, indent, first=None):
    return textwrap.fill(text, WIDTH, initial_indent=indent if first is None else first,
                         subsequent_indent=indent, break_on_hyphens=False,
                         break_long_words=False)


def text_page(proof):
    out = ["What the numbers were checked against", "=" * 37, ""]
    for number, what in totals(proof):
        inside = "  " if what.startswith("  ") else ""
        out.append(wrapped(what.strip(), " " * 10 + inside, "%8d  %s" % (number, inside)))
    out.append("%8.2f  of its tolerance is the worst deviation (%s: %s)" % proof.worst)
    out.append("")
    out += [wrapped(note, "") for note in proof.notes] + ([""] if proof.notes else [])
    if proof.faults:
        out += ["What is wrong", "-------------"]
        out += [wrapped(fault, "  ", "- ") for fault in proof.faults] + [""]
    out += [wrapped("Deviations are given relative to the value and as a part of the tolerance; "
                    "typical is the median. A dash: the values are nothing within their "
                    "tolerance.", ""), ""]
    head = "      %-22s%-10s%7s  %9s %9s  %7s %7s" % ("source", "provenance", "values", "worst",
                                                     "typical", "of tol.", "typical")
    for section, laws in by_chapter(proof.checked):
        out += ["%s. %s" % (section, CHAPTERS[section]), "-" * (len(CHAPTERS[section]) +
                                                               len(section) + 2)]
        out += [head]
        for law in laws:
            out += [wrapped("%s: %s" % (law["id"], law["law"]), "    ", "  ")]
            out += group_lines(law)
        out.append("")
    out += ["Laws without a number from outside", "-" * 34]
    for law in proof.unchecked:
        out += [wrapped("%s (%s): %s" % (law["id"], law["section"], law["law"]), "    ", "  ")]
        out.append(wrapped("none: %s" % law["unchecked"], "      "))
        if law["tests"]:
            out.append(wrapped("checked by %s" % ", ".join("tests/" + t for t in law["tests"]),
                               "        ", "      "))
        out += group_lines(law)
    out.append("")
    out += ["Published numbers known to be off", "-" * 33]
    for row in proof.known_failures:
        out.append(wrapped("%s [%s]: published %s, here %s; %s" % (
            row["id"], row["source"], short(row["expected"]), short(row["actual"]), reason(row)), "    ",
            "  "))
    out += ["", "Files of src/ without a law", "-" * 27]
    for law in proof.laws:
        if law["section"] == "-" and law["files"]:
            out.append(wrapped("%s: %s; %s" % (" ".join(law["files"]), law["law"],
                                               law["unchecked"]), "    ", "  "))
    out += ["", "Sources", "-" * 7]
    for key in used_sources(proof):
        versions = sorted({group.version for law in proof.laws
                           for group in law["groups"].values()
                           if group.source == key and group.version})
        title = proof.sources[key]["title"] if key in proof.sources else ", ".join(versions)
        out.append(wrapped("%s: %s" % (key, title), "    ", "  "))
    return "\n".join(out) + "\n"


def group_lines(law):
    """The check values of a law, one line for each source and kind."""
    for group in ordered(law):
        figures = group.figures()
        yield "      %-22s%-10s%7d  %9s %9s  %7s %7s" % (
            group.source, group.kind, group.count, percent(figures[0], group.unit),
            percent(figures[1], group.unit), share(figures[2]), share(figures[3]))


def used_sources(proof):
    return sorted({group.source for law in proof.laws for group in law["groups"].values()})


def short(number):
    return "%.6g" % float(number)


def reason(row):
    """The reason a table gives for a number known to be off."""
    path = os.path.join(HERE, row["table"] + ".csv")
    with open(path, newline="", encoding="utf-8") as file:
        for line in csv.reader(file):
            if line and line[0] == row["id"]:
                return line[-1]
    return "no reason found"


STYLE = """
:root { --ink: #22252a; --dim: #5d636d; --line: #d9d5cc; --paper: #fbfaf7; --bar: #4f7f73;
        --bad: #a33324; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 68rem; padding: 1.5rem 1rem 4rem; background: var(--paper);
       color: var(--ink); font: 16px/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: 0 0 1rem; }
h2 { font-size: 1.2rem; margin: 2.4rem 0 .6rem; padding-bottom: .2rem;
     border-bottom: 2px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.4rem 0 .1rem; }
h3 code { font-weight: 700; }
p { margin: .3rem 0; }
code { font: .87em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; overflow-wrap: anywhere; }
.dim, td small { color: var(--dim); }
.totals { display: grid; grid-template-columns: max-content 1fr; gap: .15rem .8rem; margin: 0; }
.totals dt { text-align: right; font-weight: 700; font-variant-numeric: tabular-nums; }
.totals dd { margin: 0; }
.totals .sub { font-weight: 400; }
.totals dd.sub { padding-left: 1rem; }
.bad { color: var(--bad); }
table { width: 100%; border-collapse: collapse; margin: .3rem 0 .8rem; font-size: .9rem; }
th { text-align: left; font-weight: 600; color: var(--dim); border-bottom: 1px solid var(--line); }
th, td { padding: .25rem .5rem .25rem 0; vertical-align: top; }
td { border-bottom: 1px solid var(--line); }
td small { display: block; line-height: 1.35; }
th.n, td.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums;
             width: 5rem; padding-right: .8rem; }
th.of { text-align: center; border: 0; padding-bottom: 0; font-weight: 400; font-style: italic; }
th.kind, td.kind { width: 6.5rem; }
.files { font-size: .88rem; }
.bar { display: block; height: 4px; margin-top: .25rem; background: var(--line); }
.bar i { display: block; height: 4px; background: var(--bar); }
ul { margin: .4rem 0; padding-left: 1.2rem; }
li { margin-bottom: .5rem; }
@media (max-width: 640px) {
  body { padding: 1rem .8rem 3rem; }
  thead { display: none; }
  table, tbody { display: block; }
  tr { display: grid; grid-template-columns: 1fr 1fr 1fr; gap: 0 .6rem; padding: .4rem 0;
       border-bottom: 1px solid var(--line); }
  td { border: 0; padding: 0; }
  td.source { grid-column: 1 / 4; grid-row: 1; }
  td.kind, td.n { text-align: left; width: auto; padding: .15rem 0 0; }
  td.values { grid-column: 1; grid-row: 3; }
  td[data-is]::before { content: attr(data-is); display: block; color: var(--dim);
                        font-size: .78rem; }
}
@media print {
  body { background: #fff; font-size: 10pt; max-width: none; padding: 0; }
  h2, h3 { break-after: avoid; }
  tr, li { break-inside: avoid; }
  .bar, .bar i { print-color-adjust: exact; -webkit-print-color-adjust: exact; }
}
"""


def html_page(proof):
    esc = html.escape
    out = ["<!DOCTYPE html>", '<html lang="en">', '<head><meta charset="utf-8">',
           '<meta name="viewport" content="width=device-width, initial-scale=1">',
           "<title>What the numbers were checked against</title>",
           "<style>%s</style></head>" % STYLE, "<body>",
           "<h1>What the numbers were checked against</h1>", '<dl class="totals">']
    for number, what in totals(proof):
        cls = ' class="sub"' if what.startswith("  ") else ""
        out.append("<dt%s>%s</dt><dd%s>%s</dd>" % (cls, format(number, ",d"), cls, esc(what.strip())))
    out.append("<dt>%.2f</dt><dd>of its tolerance is the worst deviation "
               "(<code>%s</code>: <code>%s</code>)</dd></dl>" % (proof.worst[0],
                                                               esc(proof.worst[1]),
                                                               esc(proof.worst[2])))
    out += ["<p>%s</p>" % esc(note) for note in proof.notes]
    if proof.faults:
        out.append('<h2 class="bad">What is wrong</h2><ul class="bad">')
        out += ["<li>%s</li>" % esc(fault) for fault in proof.faults] + ["</ul>"]
    out.append('<p class="dim">Deviations are given relative to the value and as a part of the '
               "tolerance; typical is the median. A dash: the values are nothing within their "
               "tolerance.</p>")
    for section, laws in by_chapter(proof.checked):
        out.append("<h2>%s. %s</h2>" % (section, esc(CHAPTERS[section])))
        for law in laws:
            out += law_html(proof, law)
    out.append("<h2>Laws without a number from outside</h2>")
    for law in proof.unchecked:
        out += law_html(proof, law)
    if proof.known_failures:
        out.append("<h2>Published numbers known to be off</h2><ul>")
        for row in proof.known_failures:
            out.append("<li><code>%s</code> [<code>%s</code>]: published %s, here %s; %s</li>" % (
                esc(row["id"]), esc(row["source"]), short(row["expected"]), short(row["actual"]),
                esc(reason(row))))
        out.append("</ul>")
    out.append("<h2>Not laws</h2><ul>")
    for law in proof.laws:
        if law["section"] == "-":
            what = files_html(law) or " ".join("<code>%s</code>" % esc(q)
                                               for q in law["quantities"])
            out.append("<li>%s<br>%s: %s.</li>" % (what, esc(law["law"]), esc(law["unchecked"])))
    out += ["</ul>", "</body></html>"]
    return "\n".join(out) + "\n"


def files_html(law):
    return ", ".join("<code>src/%s</code>" % html.escape(name) for name in law["files"])


def law_html(proof, law):
    esc = html.escape
    out = ["<h3><code>%s</code> %s</h3>" % (esc(law["id"]), esc(law["law"])),
           '<p class="dim files">%sin %s</p>' % (
               "" if proof.outside(law) else "section %s, " % law["section"], files_html(law))]
    if not proof.outside(law):
        out.append("<p>None: %s.</p>" % esc(law["unchecked"]))
        if law["tests"]:
            out.append('<p class="dim files">checked by %s</p>' % ", ".join(
                "<code>tests/%s</code>" % esc(test) for test in law["tests"]))
    if not law["groups"]:
        return out
    out.append('<table><thead><tr><th class="of" colspan="3"><th class="of" colspan="2">of the value'
               '<th class="of" colspan="2">of the tolerance</tr>'
               '<tr><th>source<th class="kind">provenance<th class="n">values'
               '<th class="n">worst<th class="n">typical<th class="n">worst'
               '<th class="n">typical</tr></thead><tbody>')
    for group in ordered(law):
        worst, typical, worst_share, typical_share = group.figures()
        out.append(
            '<tr><td class="source"><code>%s</code><small>%s</small></td>'
            '<td class="kind" data-is="provenance">%s</td>'
            '<td class="n values" data-is="values">%s</td>'
            '<td class="n" data-is="worst of value">%s</td>'
            '<td class="n" data-is="typical">%s</td>'
            '<td class="n" data-is="worst of tol.">%s<span class="bar"><i style="width:%.0f%%"></i>'
            '</span></td><td class="n" data-is="typical">%s</td></tr>' % (
                esc(group.source), esc(proof.title(group)), group.kind, format(group.count, ",d"),
                percent(worst, group.unit), percent(typical, group.unit), share(worst_share),
                100.0 * min(worst_share, 1.0), share(typical_share)))
    out.append("</tbody></table>")
    return out


def main(arguments):
    if len(arguments) != 1:
        raise SystemExit("usage: proof.py FOLDER")
    proof = Proof(arguments[0])
    text = text_page(proof)
    for name, page in (("proof.txt", text), ("proof.html", html_page(proof))):
        with open(os.path.join(arguments[0], name), "w", encoding="utf-8") as file:
            file.write(page)
    sys.stdout.write(text)
    for fault in proof.faults:
        sys.stdout.write("failed: %s\n" % fault)
    return 1 if proof.faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
