"""Rules of the build that no compiler knows.

    build_rules.py circles BUILD-FOLDER     no file of src/ needs, by way of others, itself
    build_rules.py laws BUILD-FOLDER        no law (base/law.h) has a number without a decimal point
    build_rules.py prove BUILD-FOLDER       each rule refuses what it is for

A file needs another when its object calls a function or reads a table of the other's. Folders are
layers already: see src/CMakeLists.txt. The exit code is 1 when a rule is broken.
"""

import json
import os
import re
import shlex
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
# From below.
LAYERS = ("base", "numerics", "physics", "yaml", "data", "kiln", "point", "study", "ware", "room",
          "report", "write", "ask", "cli")


def symbols(path):
    """(defined, needed) names of an object."""
    defined, needed = set(), set()
    listed = subprocess.run(["nm", str(path)], stdout=subprocess.PIPE, text=True, check=True).stdout
    for line in listed.splitlines():
        kind, name = line.split()[-2:]
        if kind in "TDRBV":
            defined.add(name)
        elif kind == "U":
            needed.add(name)
    return defined, needed


def needs_of(objects):
    """{file: {file it needs: {names}}} of {file: path of its object}."""
    defined, needed = {}, {}
    for file, path in objects.items():
        names, needed[file] = symbols(path)
        defined.update(dict.fromkeys(names, file))
    needs = {file: {} for file in objects}
    for file, names in needed.items():
        for name in names:
            other = defined.get(name, file)
            if other != file:
                needs[file].setdefault(other, set()).add(name)
    return needs


def circles_of(needs):
    """Sets of files each of which needs all others of its set (Tarjan)."""
    index, low, stack, found = {}, {}, [], []

    def visit(file):
        index[file] = low[file] = len(index)
        stack.append(file)
        for other in needs[file]:
            if other not in index:
                visit(other)
                low[file] = min(low[file], low[other])
            elif other in stack:
                low[file] = min(low[file], index[other])
        if low[file] == index[file]:
            members = set()
            while file not in members:
                members.add(stack.pop())
            if len(members) > 1:
                found.append(members)

    for file in needs:
        if file not in index:
            visit(file)
    return found


def climbs_of(needs):
    """Needs of a file in a lower folder for one in a higher."""
    rank = {folder: i for i, folder in enumerate(LAYERS)}
    return [(file, other) for file, others in needs.items() for other in others
            if rank[file.split("/")[0]] < rank[other.split("/")[0]]]


def commands(build):
    """{point/network.c: compile command} of the files of src/ as their own layer builds them."""
    src = ROOT / "src"
    found = {}
    for entry in json.loads((build / "compile_commands.json").read_text()):
        path = Path(entry["directory"], entry["file"]).resolve()
        if src in path.parents and path.parent.name != "pack":  # a tool of the build
            file = str(path.relative_to(src))
            if f"dw_{path.parent.name}.dir" in entry["command"]:
                found[file] = entry
    return found


def objects_of(build):
    found = {}
    for file, entry in commands(build).items():
        words = shlex.split(entry["command"])
        found[file] = Path(entry["directory"], words[words.index("-o") + 1])
    missing = {str(p.relative_to(ROOT / "src")) for p in (ROOT / "src").glob("*/*.c")
               if p.parent.name != "pack"} - set(found)
    if missing:
        sys.exit(f"not built: {' '.join(sorted(missing))}")
    return found


def check_circles(build):
    needs = needs_of(objects_of(build))
    circles, climbs = circles_of(needs), climbs_of(needs)
    for members in circles:
        print("a circle:", *sorted(members))
        for file in sorted(members):
            for other in sorted(set(needs[file]) & members):
                print(f"    {file} needs {other}: {' '.join(sorted(needs[file][other]))}")
    for file, other in climbs:
        print(f"upwards: {file} needs {other}: {' '.join(sorted(needs[file][other]))}")
    print(f"{len(needs)} files, {len(circles)} circles, {len(climbs)} needs upwards")
    return not circles and not climbs


def laws_of(source):
    """[(line, expression)] of the laws in a text."""
    found = []
    for match in re.finditer(r"(?m)^DW_LAW\(", source):
        depth, at, commas, begin = 1, match.end(), 0, None
        while depth > 0 and at < len(source):
            word = re.compile(r'"(?:\\.|[^"\\\n])*"|.', re.S).match(source, at).group()
            depth += {"(": 1, ")": -1}.get(word, 0)
            commas += word == "," and depth == 1
            at += len(word)
            if commas == 6 and begin is None:
                begin = at
        found.append((source.count("\n", 0, match.start()) + 1, source[begin:at - 1]))
    return found


def whole_numbers(expression):
    """Numbers that C would divide without a rest."""
    return [n for n in re.findall(r"(?<![\w.])\d[\w.]*(?:(?<=[eE])[-+]\d+)?", expression)
            if "." not in n and "e" not in n.lower()]


def check_laws():
    count, good = 0, True
    for path in sorted((ROOT / "src").glob("*/*.[ch]")):
        for line, expression in laws_of(path.read_text()):
            count += 1
            for number in whole_numbers(expression):
                print(f"{path.relative_to(ROOT)}:{line}: {number} has no decimal point; 2/3 is 0")
                good = False
    print(f"{count} laws")
    return good


def prove_laws():
    """A division of whole numbers is told, other numbers are not."""
    law = 'DW_LAW(a_1, "b2", "m, 3", "", "s1", (double x2, double y), {})\n'
    tried = {"2.0/3.0*x2": [], "2/3.0": ["2"], "pow(x2, 1/4)": ["1", "4"], "1.0e-3 + 1e5*y": [],
             "fmax(x2, (3))": ["3"], "x2/y - 2.5E+2": [], "10": ["10"]}
    good = True
    for expression, expected in tried.items():
        found = laws_of("static int a;\n" + law.format(expression) + law.format("y/1.0"))
        if [line for line, _ in found] != [2, 3] or whole_numbers(found[0][1]) != expected:
            print(f"misjudged: {expression}")
            good = False
    return good


def compiles(entry, source, folder):
    """Whether the text compiles as the file of a compile command would."""
    path = folder / "tried.c"
    path.write_text(source)
    words = shlex.split(entry["command"])
    words[words.index("-o") + 1] = str(folder / "tried.o")
    words[words.index("-c") + 1] = str(path)
    done = subprocess.run(words, cwd=entry["directory"], stdout=subprocess.PIPE,
                          stderr=subprocess.STDOUT, text=True, check=False)
    return done.returncode == 0, done.stdout


def prove_includes(build, folder):
    """A header of the next folder above is not found from the one below; its own is."""
    good = True
    known = commands(build)
    for below, above in zip(LAYERS, LAYERS[1:]):
        entry = next(e for f, e in known.items() if f.startswith(f"{below}/"))
        own = sorted((ROOT / "src" / below).glob("*.h"))[0].name
        high = next(h.name for h in sorted((ROOT / "src" / above).glob("*.h"))
                    if not list((ROOT / "src" / below).glob(h.name)))
        text = "typedef int dw_tried;\n"
        if not compiles(entry, f'#include "{own}"\n{text}', folder)[0]:
            print(f"{below}: its own {own} is not found")
            good = False
        done, said = compiles(entry, f'#include "{high}"\n{text}', folder)
        if done or "No such file" not in said and "not found" not in said:
            print(f"{below}: may include {high} of {above}")
            good = False
    return good


def prove_circles(folder):
    """Three files that need each other in a ring are told, a chain is not."""
    good = True
    for last, expected in ((0, 1), (3, 0)):
        objects = {}
        for i, other in enumerate((1, 2, last)):
            source = folder / f"{i}.c"
            source.write_text(f"int f{other}(void);\nint f{i}(void) {{ return f{other}(); }}\n")
            objects[f"point/{i}.c"] = folder / f"{i}.o"
            subprocess.run([os.environ.get("CC", "cc"), "-c", str(source), "-o",
                            str(objects[f"point/{i}.c"])], check=True)
        if len(circles_of(needs_of(objects))) != expected:
            print(f"a {'ring' if expected else 'chain'} of three files is misjudged")
            good = False
    objects = {"base/0.c": folder / "0.o", "point/1.c": folder / "1.o", "point/2.c": folder / "2.o"}
    if climbs_of(needs_of(objects)) != [("base/0.c", "point/1.c")]:
        print("a need upwards is not told")
        good = False
    return good


def main(arguments):
    if len(arguments) != 2 or arguments[0] not in ("circles", "laws", "prove"):
        sys.exit(__doc__)
    build = Path(arguments[1]).resolve()
    if arguments[0] == "circles":
        return 0 if check_circles(build) else 1
    if arguments[0] == "laws":
        return 0 if check_laws() else 1
    with tempfile.TemporaryDirectory(prefix="damperwise-rules-") as folder:
        proofs = [prove_includes(build, Path(folder)), prove_circles(Path(folder)), prove_laws()]
    print(f"{sum(proofs)} of {len(proofs)} rules hold")
    return 0 if all(proofs) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
