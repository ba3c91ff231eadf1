"""The page of proof.py, as text and as HTML."""
import csv
import html
import os
import re
import textwrap

from proof_data import CHAPTERS, HERE, KINDS, KIND_WORDS, OWN_KINDS

WIDTH = 100


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
    out.append("%8.2g  of its tolerance is the worst deviation (%s: %s)" % proof.worst)
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
            row["id"], row["source"], short(row["expected"]), short(row["actual"]),
            reason(row)), "    ", "  "))
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
  table { font-size: 8.5pt; }
  th.n, td.n { width: 4.2em; }
  th.kind, td.kind { width: 6em; }
  h2 { margin-top: 1.2rem; }
  h3 { margin-top: .8rem; }
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
        out.append("<dt%s>%s</dt><dd%s>%s</dd>" % (cls, format(number, ",d"), cls,
                                                   esc(what.strip())))
    out.append("<dt>%.2g</dt><dd>of its tolerance is the worst deviation "
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
    out.append('<table><thead><tr><th class="of" colspan="3">'
               '<th class="of" colspan="2">of the value<th class="of" colspan="2">of the tolerance</tr>'
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
