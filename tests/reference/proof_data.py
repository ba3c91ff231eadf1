"""Check values, laws and sources brought together, and what does not fit. For proof.py."""
import csv
import os
import re
import statistics

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.dirname(os.path.dirname(HERE))
LEAST_OUTSIDE = 400  # read or recalled, so not counting what was worked out

CHAPTERS = {
    "1": "The picture", "2": "Air", "3": "Fuel", "4": "Gas jet", "5": "Burners", "6": "Openings",
    "7": "Flue, damper, stack", "8": "What burns", "9": "What it means for the ware", "10": "Heat",
    "11": "Carbon monoxide", "12": "Fitting to a kiln", "13": "Doubt", "14": "Closures",
}
LAW_COLUMNS = ["id", "section", "law", "files", "quantities", "live", "tests", "unchecked"]
DEVIATION_COLUMNS = ["table", "id", "quantity", "source", "provenance", "status", "expected",
                     "actual", "deviation", "tolerance"]
COMPARISON_COLUMNS = ["law", "source", "version", "count", "worst", "typical", "limit",
                      "provenance"]
# A deviation is relative unless its unit says otherwise; what is what was compared, in words.
COMPARISON_EXTRAS = ["unit", "what"]
# Comparisons with a formula written down a second time, not with another program.
OWN_COMPARISONS = ("closed form", "quadrature")
# Folders whose every source file must belong to a law.
LAW_FOLDERS = ["physics", "point", "ware", "room"]

# What a check value is worth, the best first.
KINDS = ["read", "recalled", "computed", "program", "live", "second", "own"]
PROGRAMS = {"cea": "program", "udunits2": "live"}  # sources that are programs
OWN_KINDS = ("second", "own")  # no numbers from outside
KIND_WORDS = {
    "read": "read in the source, or in a public copy of it that is named",
    "recalled": "from memory, not read",
    "computed": "worked out apart from this program, from a published formula or published data",
    "program": "by another program (NASA CEA), stored",
    "live": "by other programs and libraries, worked out afresh, on random states for the most part",
    "second": "by a second program of ours for the same equations, in another language and by "
              "other methods; counts for nothing",
    "own": "own algebra, worked out a second time: shows that the code does what was meant, "
           "not that the law is right; counts for nothing",
}


def read_table(path, columns, extras=()):
    """Rows of a CSV file as dictionaries; lines that begin with # are comments. Any of the extra
    columns may follow."""
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.reader(line for line in file if not line.startswith("#")))
    if rows and set(rows[0][len(columns):]) <= set(extras):
        columns = columns + rows[0][len(columns):]
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
        self.source, self.kind, self.version, self.what = source, kind, "", ""
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
    if row["source"] in PROGRAMS:
        return PROGRAMS[row["source"]]
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
        for name in ("proof_reference.csv", "proof_cea.csv", "proof_units.csv"):
            path = os.path.join(folder, name)
            self.rows += read_table(path, DEVIATION_COLUMNS)
        self.comparisons = []
        for name, what in (("live.csv", "live comparison with other programs"),
                           ("second_opinion.csv", "comparison with the second program")):
            path = os.path.join(folder, name)
            if os.path.exists(path):
                self.comparisons += read_table(path, COMPARISON_COLUMNS, COMPARISON_EXTRAS)
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
            kind = "second"
            if row["provenance"] == "live" and not row["source"].startswith(OWN_COMPARISONS):
                kind = "live"
            key = (row["source"], kind, row["law"], row["version"], len(law["groups"]))
            group = law["groups"].setdefault(key, Group(row["source"], kind))
            group.version, group.unit = row["version"], row.get("unit", "")
            group.what = row.get("what", "")
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
        return " ".join(part for part in (title, group.version) if part) + (
            ": " + group.what if group.what else "")
