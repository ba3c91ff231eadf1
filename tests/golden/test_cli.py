"""What must hold for every answer of the program, beside its numbers.

    python3 tests/golden/test_cli.py --program PATH [TEST...]
"""

import csv
import io
import json
import math
import re
import shutil
import sys
import time

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import EXAMPLES, JUNIPER, ROOT, main, need, tests_of  # noqa: E402

COTTONWOOD = ROOT / "examples" / "cottonwood-bench.yaml"
NOT_SOLVED = ("--damper", "0%", "--gas-pressure", "400 kPa")
CAUTION = re.compile(r"not a measurement|no measurement")

KEYS = """
    air_ratio equivalence_ratio primary_aeration stoichiometric_air_kg_kg gas_flow_kg_s
    heat_input_net_w heat_input_gross_w pressure_floor_pa pressure_top_pa neutral_plane_m
    draft_theoretical_pa draft_stack_base_pa flue_flow_kg_s spill_kg_s into_room_kg_s
    into_room_by_openings_kg_s into_room_by_flues_kg_s flows gas_wet gas_dry
    log10_po2_bar probe_emf_v reducing_fraction reduction_word carbon_activity dphi_ddamper
    dphi_dgas_pressure_per_pa unmixedness closure solver diagnostics
""".split()
HEAD = {"program", "command", "kiln", "units", "caution", "solved", "reason", "diagnostics",
        "setting", "assumptions"}
SWEEP_HEAD = {"solved", "reason"}


def refuse(word):
    raise ValueError(f"{word} in JSON")


def parse(text):
    """JSON without NaN, infinities and keys given twice."""
    def once(pairs):
        need(len({k for k, _ in pairs}) == len(pairs), f"a key twice in {[k for k, _ in pairs]}")
        return dict(pairs)
    return json.loads(text, parse_constant=refuse, object_pairs_hook=once)


def estimate(h, *words, **more):
    return parse(h.run("estimate", *words, "--format", "json", **more).out)


def difference(a, b, relative, path=""):
    """Where two JSON values differ by more than that, or None."""
    number = (int, float)
    if isinstance(a, dict) and isinstance(b, dict):
        if a.keys() != b.keys():
            return f"{path}: {sorted(a.keys() ^ b.keys())}"
        pairs = [(f"{path}.{k}", a[k], b[k]) for k in a]
    elif isinstance(a, list) and isinstance(b, list):
        if len(a) != len(b):
            return f"{path}: {len(a)} and {len(b)} items"
        pairs = [(f"{path}.{i}", x, y) for i, (x, y) in enumerate(zip(a, b))]
    elif isinstance(a, number) and isinstance(b, number) and not isinstance(a, bool):
        same = a == b or abs(a - b) <= relative * max(abs(a), abs(b))
        return None if same else f"{path}: {a!r} and {b!r}"
    else:
        return None if a == b else f"{path}: {a!r} and {b!r}"
    found = (difference(x, y, relative, where) for where, x, y in pairs)
    return next((d for d in found if d), None)


def results(answer):
    """An estimate without how it was reached and what was assumed."""
    reached = ("closure", "solver", "assumptions", "doubt")
    return {k: v for k, v in answer.items() if k not in reached}


# ---- units ---------------------------------------------------------------------------------------


def test_units_do_not_touch_json(h):
    for kiln in EXAMPLES:
        for words in (("estimate", kiln), ("check", kiln),
                      ("sweep", kiln, "--vary", "damper=0..100%:50%")):
            first, second = (h.run(*words, "--format", "json", "--units", units)
                             for units in ("metric", "us"))
            need(first.out == second.out, f"{second}: JSON differs between systems of units")
    keys = [h.run("check", "--keys", "--format", "json", "--units", u).out for u in ("metric", "us")]
    need(keys[0] == keys[1], "the keys in JSON differ between systems of units")
    text = [h.run("estimate", JUNIPER, "--units", u).out for u in ("metric", "us")]
    need(text[0] != text[1], "--units us does nothing")


def in_si(text):
    """A description in US units with every quantity turned to SI, by the definitions."""
    inch, foot = 0.0254, 0.3048
    water = 9.80665 * 25.4  # conventional inch of water
    rules = (
        (r"([\d.]+) degF", lambda m: f"{(float(m[1]) + 459.67) / 1.8!r} K"),
        (r"([\d.]+) in w\.c\.", lambda m: f"{float(m[1]) * water!r} Pa"),
        (r"([\d.]+) in2", lambda m: f"{float(m[1]) * inch * inch!r} m2"),
        (r"(\d+) (\d+)/(\d+) in\b", lambda m: f"{(int(m[1]) + int(m[2]) / int(m[3])) * inch!r} m"),
        (r"([\d.]+) in\b", lambda m: f"{float(m[1]) * inch!r} m"),
        (r"([\d.]+) ft\b", lambda m: f"{float(m[1]) * foot!r} m"),
        (r"\{drill: 22\}", lambda m: f"{{diameter: {0.1570 * inch!r} m}}"),
    )
    text = re.sub(r"#.*", "", text)
    for pattern, replacement in rules:
        text, count = re.subn(pattern, replacement, text)
        need(count > 0, f"the example has no {pattern}")
    need(not re.search(r"\d (in|ft|deg)", text), "a US unit is left")
    return text


def test_us_description_equals_the_same_in_si(h):
    ours = estimate(h, COTTONWOOD)
    theirs = estimate(h, "-", stdin=in_si(COTTONWOOD.read_text(encoding="utf-8")))
    ours, theirs = results(ours), results(theirs)
    # A slope is a quotient of differences, and shows the last bit of an input enlarged.
    for slope in ("dphi_ddamper", "dphi_dgas_pressure_per_pa"):
        need(not difference(ours.pop(slope), theirs.pop(slope), 1e-9), f"US and SI: {slope}")
    # Twelve digits are printed: one unit of the last is up to 1e-11 of the number.
    found = difference(ours, theirs, 1.001e-11)
    need(not found, f"US and SI differ: {found}")


def test_us_text_says_the_same_as_metric(h):
    """Spot checks of converted text against JSON."""
    for kiln in EXAMPLES:
        answer = estimate(h, kiln)
        text = h.run("estimate", kiln, "--units", "us").out
        shown = re.search(r"Heat input ([\d.,]+) (k?Btu/h) net", text)
        need(shown, f"{kiln.name}: no heat input in US units")
        watt = float(shown[1].replace(",", "")) * 0.29307107 * (1000 if shown[2][0] == "k" else 1)
        need(math.isclose(watt, answer["heat_input_net_w"], rel_tol=0.006),
             f"{kiln.name}: {shown[0]} is {watt} W and not {answer['heat_input_net_w']}")


# ---- JSON ----------------------------------------------------------------------------------------


def need_estimate_keys(answer, name):
    missing = [k for k in KEYS if k not in answer]
    need(not missing, f"{name}: JSON has no {missing}")
    need({"mass", "elements", "energy"} <= answer["closure"].keys(), f"{name}: closure")
    need(set(answer["closure"]["elements"]) == {"C", "H", "O", "N", "Ar"}, f"{name}: elements")
    need({"density_rounds", "pressure_steps", "worst_residual_kg_s"} <= answer["solver"].keys(),
         f"{name}: solver")
    for flow in answer["flows"]:
        need({"name", "kind", "direction", "mass_kg_s", "height_m", "dp_pa"} <= flow.keys(),
             f"{name}: flow {flow}")
        need(flow["direction"] in ("in", "out") and flow["mass_kg_s"] >= 0, f"{name}: flow {flow}")
    for entry in answer["diagnostics"]:
        need({"grade", "code", "text"} <= entry.keys(), f"{name}: diagnostic {entry}")


def test_json_has_every_key(h):
    for kiln in EXAMPLES:
        for words in ((), ("--damper", "10%"), ("--damper", "100%"), ("--temperature", "500 degC")):
            answer = estimate(h, kiln, *words)
            need(answer["solved"] is True and answer["reason"] is None, f"{kiln.name}: not solved")
            need_estimate_keys(answer, f"{kiln.name} {words}")


def test_json_adds_up(h):
    for kiln in EXAMPLES:
        answer = estimate(h, kiln)
        need(math.isclose(answer["air_ratio"] * answer["equivalence_ratio"], 1, rel_tol=1e-10),
             f"{kiln.name}: air ratio and equivalence ratio")
        for gas in ("gas_wet", "gas_dry"):
            total = sum(answer[gas].values())
            need(math.isclose(total, 1, rel_tol=1e-9), f"{kiln.name}: {gas} adds up to {total}")
        need("H2O" not in answer["gas_dry"], f"{kiln.name}: water in the dry gas")
        chamber = [f for f in answer["flows"] if f["kind"] not in ("stack", "relief")]
        balance = sum(f["mass_kg_s"] * (1 if f["direction"] == "in" else -1) for f in chamber)
        whole = sum(f["mass_kg_s"] for f in chamber)
        need(abs(balance) < 1e-9 * whole, f"{kiln.name}: in and out differ by {balance} kg/s")


def test_all_json_parses(h):
    for kiln in EXAMPLES:
        answer = parse(h.run("check", kiln, "--format", "json").out)
        need(answer["inputs"].keys() == answer["origins"].keys(), f"{kiln.name}: origins")
        need(set(answer["origins"].values()) <= {"given", "default", "derived"}, f"{kiln.name}")
        swept = parse(h.run("sweep", kiln, "--vary", "damper=0..100%:25%", "--format", "json").out)
        need(len(swept["rows"]) == 5 and swept["axes"][0]["count"] == 5, f"{kiln.name}: rows")
    need(len(parse(h.run("check", "--keys", "--format", "json").out)["keys"]) > 80, "few keys")


def test_strange_names_are_quoted(h):
    name = "it's a name, with \\ comma; umlaut \u00e4 \u7a91"
    kiln = JUNIPER.read_text(encoding="utf-8").replace("Juniper Flat community kiln",
                                                       json.dumps(name, ensure_ascii=False))
    need(estimate(h, "-", stdin=kiln)["kiln"] == name, "JSON changes the name")
    rows = dict(r[:2] for r in csv.reader(io.StringIO(
        h.run("estimate", "-", "--format", "csv", stdin=kiln).out)))
    need(rows["kiln"] == name, "CSV changes the name")


# ---- CSV -----------------------------------------------------------------------------------------


def csv_rows(done):
    need(done.out.endswith("\r\n"), f"{done}: CSV does not end its lines with CR LF")
    rows = list(csv.reader(io.StringIO(done.out, newline=""), strict=True))
    widths = {len(row) for row in rows}
    need(len(widths) == 1, f"{done}: rows of {widths} fields")
    return rows


def test_all_csv_parses(h):
    for kiln in EXAMPLES:
        for units in ("metric", "us"):
            more = ("--format", "csv", "--units", units)
            for words in (("estimate", kiln), ("check", kiln)):
                rows = csv_rows(h.run(*words, *more))
                keys = [row[0] for row in rows]
                need(len(set(keys)) == len(keys), f"{kiln.name} {words[0]}: a key twice")
            rows = csv_rows(h.run("sweep", kiln, "--vary", "damper=0..100%:50%", *more))
            need(len(rows) == 4, f"{kiln.name}: {len(rows)} rows in the sweep")
            for field in (f for row in rows for f in row):
                need(not re.fullmatch(r"[-+]?(nan|inf|infinity)", field, re.I), f"{field} in CSV")
    csv_rows(h.run("check", "--keys", "--format", "csv"))


def test_csv_keys_do_not_depend_on_the_setting(h):
    def keys(units, *words, code=0):
        rows = csv_rows(h.run("estimate", JUNIPER, *words, "--format", "csv", "--units", units,
                              code=code))
        lists = (r"(diagnostics|flows|gas_wet|gas_dry|closure|solver|doubt|damper_words|"
                 r"damper_words_not_reached)\b")
        return [row[0] for row in rows if not re.match(lists, row[0])]
    for units in ("metric", "us"):
        usual = keys(units)
        for words in (("--gas-pressure", "50 Pa"), ("--gas-pressure", "200 kPa"),
                      ("--damper", "0%"), ("--damper", "100%")):
            other = keys(units, *words)
            need(other == usual, f"{words}: {sorted(set(other) ^ set(usual))}")
        other = keys(units, *NOT_SOLVED, code=4)
        need(other == usual, f"not solved: {sorted(set(other) ^ set(usual))}")


def test_csv_says_what_json_says(h):
    rows = {r[0]: r[1] for r in csv_rows(h.run("estimate", JUNIPER, "--format", "csv"))}
    answer = estimate(h, JUNIPER)
    for key in ("air_ratio", "equivalence_ratio", "dphi_ddamper", "reducing_fraction"):
        need(float(rows[key]) == answer[key], f"{key}: {rows[key]} and {answer[key]}")
    need(math.isclose(float(rows["spill_kg_h"]), 3600 * answer["spill_kg_s"], rel_tol=1e-10),
         "spill in CSV and JSON")


# ---- not solved ----------------------------------------------------------------------------------


def test_not_solved_gives_no_numbers(h):
    answer = estimate(h, JUNIPER, *NOT_SOLVED, code=4)
    need(answer["solved"] is False and answer["reason"], "no reason")
    solved = estimate(h, JUNIPER)
    need(answer.keys() == solved.keys(), "other keys than when solved")
    shown = [k for k, v in answer.items()
             if k not in HEAD and v is not None
             and not (isinstance(v, dict) and all(x is None for x in v.values()))]
    need(not shown, f"values without a solution: {shown}")

    table = {r[0]: r for r in csv_rows(h.run("estimate", JUNIPER, *NOT_SOLVED, "--format", "csv",
                                              code=4))}
    shown = [k for k, r in table.items()
             if k.split(".")[0] not in HEAD | {"key"} and r[1] != ""]
    need(not shown, f"CSV has values without a solution: {shown}")

    text = h.run("estimate", JUNIPER, *NOT_SOLVED, code=4).out
    need("NOT SOLVED" in text and answer["reason"].split(":")[0] in text, "text says not why")
    for word in ("Steepness", "Neutral", "Heat input", "Flows", "Where the heat goes", "Atmosphere"):
        need(word not in text, f"'{word}' without a solution")


def test_unsolved_rows_give_no_numbers(h):
    words = ("sweep", JUNIPER, "--vary", "gas_pressure=20, 400 kPa", "--damper", "0%")
    good, bad = parse(h.run(*words, "--format", "json").out)["rows"]
    need(good["solved"] is True and bad["solved"] is False and bad["reason"], f"{bad}")
    shown = [k for k, v in bad.items()
             if v is not None and k not in SWEEP_HEAD | {"gas_pressure_pa"}]
    need(not shown and good.keys() == bad.keys(), f"an unsolved row shows {shown}")
    head, _, bad = csv_rows(h.run(*words, "--format", "csv"))[:3]
    shown = [k for k, v in zip(head, bad)
             if v and k not in SWEEP_HEAD | {"gas_pressure_kPa", "caution"}]
    need(not shown, f"an unsolved row shows {shown}")
    line = [x for x in h.run(*words).out.splitlines() if "not solved:" in x]
    need(len(line) == 1 and len(re.findall(r"\d+", line[0].split("not solved")[0])) == 1,
         f"text of an unsolved row: {line}")


# ---- round trip ----------------------------------------------------------------------------------

UNITS = (("_pa_abs", " Pa"), ("_kg_s", " kg/s"), ("_m3_s", " m3/s"), ("_m_s", " m/s"), ("_w_k", " W/K"),
         ("_rad", " rad"), ("_dk", " K"), ("_m3", " m3"), ("_m2", " m2"), ("_pa", " Pa"),
         ("_kg", " kg"), ("_m", " m"), ("_k", " K"), ("_s", " s"))


# The JSON has them as fractions, a description in per cent.
SHARES = {"relative_humidity", "packed", "shutter", "open", "leak", "hood_capture", "burnt_share"}


def as_settings(checked):
    """--set for every input that was given or has a default."""
    words = []
    for key, origin in checked["origins"].items():
        value = checked["inputs"][key]
        if origin == "derived" or value is None:
            continue
        fuel = checked["inputs"]["kiln.fuel"]
        if key == "kiln.fuel" and fuel == "mixture" or key.startswith("kiln.fuel.") \
                and fuel != "mixture":
            continue
        if isinstance(value, float):
            value = int(value) if value.is_integer() else value
            suffix, unit = next(((s, u) for s, u in UNITS if key.endswith(s)), ("", ""))
            if key.startswith("kiln.fuel.") or key.rsplit(".", 1)[1] in SHARES:
                value, unit = 100 * value, " %"
            key, value = key[:len(key) - len(suffix)], f"{value!r}{unit}"
        elif isinstance(value, str) and (key.endswith("name") or key == "kiln.fuel"):
            value = json.dumps(value)
        words += ["--set", f"{key}={value}"]
    return words


def test_check_gives_the_kiln_again(h):
    for kiln in EXAMPLES:
        for more in ((), ("--set", "flues.*.damper.open=35%")):
            more = more if kiln == JUNIPER else ()
            checked = parse(h.run("check", kiln, *more, "--format", "json").out)
            settings = as_settings(checked)
            need(len(settings) > 60, f"{kiln.name}: only {len(settings) // 2} inputs")
            ours, theirs = estimate(h, kiln, *more), estimate(h, kiln, *settings)
            # The inputs are printed with twelve digits; trace gases take that by its power.
            found = difference(results(ours), results(theirs), 1e-9)
            need(not found, f"{kiln.name}: {found}")
            need(theirs["assumptions"] == [], f"{kiln.name}: {theirs['assumptions'][:2]}")
            again = parse(h.run("check", kiln, *settings, "--format", "json").out)
            found = difference(checked["inputs"], again["inputs"], 1e-11)
            need(not found, f"{kiln.name}: inputs {found}")


# ---- words ---------------------------------------------------------------------------------------


def test_every_answer_carries_the_caution(h):
    for kiln in EXAMPLES:
        for words in (("estimate", kiln), ("sweep", kiln, "--vary", "damper=0..100%:50%")):
            for form in ("text", "json", "csv"):
                done = h.run(*words, "--format", form)
                need(CAUTION.search(done.out), f"{done}: {form} without the caution")
    for form in ("text", "json", "csv"):
        done = h.run("estimate", JUNIPER, *NOT_SOLVED, "--format", form, code=4)
        need(CAUTION.search(done.out), f"{done}: {form} without the caution")
    for words in (("--help",), ("estimate", "--help"), ("sweep", "--help"), ("check", "--help")):
        need(CAUTION.search(h.run(*words).out), f"{words} without the caution")


def test_no_answer_holds_a_judgement(h):
    """run() looks at every output of every test; here is what no other test asks for."""
    for kiln in EXAMPLES:
        for units in ("metric", "us"):
            h.run("check", kiln, "--units", units)
            h.run("estimate", kiln, "--damper", "0%", "--units", units, code=None)
    for path in sorted((ROOT / "tests" / "bad_input").glob("*.yaml")):
        h.run("estimate", path, code=None)
    for form in ("text", "json", "csv"):
        h.run("check", "--keys", "--format", form)


def test_first_screen_fits(h):
    settings = [(), ("--damper", "0%"), ("--damper", "25%"), ("--damper", "100%"),
                ("--temperature", "600 degC"), ("--gas-pressure", "0.2 kPa"),
                ("--gas-pressure", "200 kPa", "--damper", "5%")]
    longest = JUNIPER.read_text(encoding="utf-8")
    for old in ("Juniper Flat community kiln", "left pair", "secondary ports", "door gap",
                "back flue"):
        longest = longest.replace(f"name: {old}", f"name: {old} {'x' * (61 - len(old))}")
    for units in ("metric", "us"):
        for words in settings:
            for kiln in EXAMPLES:
                done = h.run("estimate", kiln, *words, "--units", units, code=None)
                need(done.code in (0, 4), f"{done}")
                need_screen(done)
            need_screen(h.run("estimate", "-", *words, "--units", units, stdin=longest, code=None),
                        title_lines=2)


def need_screen(done, title_lines=1):
    """What comes before the first heading: at most 24 lines of 80 columns with one hazard and one damper, a
    few more where there are more of them."""
    lines = done.out.split("\n")
    rule = next((i for i, line in enumerate(lines) if re.fullmatch("-{4,}", line)), None)
    need(rule is not None, f"{done}: no heading")
    screen = lines[:rule - 1]
    while screen and not screen[-1].strip():
        screen.pop()
    hazards = sum(line.startswith(("HAZARD", "WARNING")) for line in screen)
    together = any("Moved together" in line for line in screen)
    missing = sum("Not at any position" in line for line in screen)
    most = 23 + title_lines + max(0, hazards - 1) + (5 if together else 0) + 3 * missing
    need(5 <= len(screen) <= most, f"{done}: the first screen has {len(screen)} lines")
    wide = [line for line in screen if len(line) > 80]
    need(not wide, f"{done}: more than 80 columns: {wide}")
    need(CAUTION.search(" ".join(screen[-3:])), f"{done}: the first screen ends without caution")


# ---- options -------------------------------------------------------------------------------------


def test_options_stand_anywhere(h):
    first = h.run("estimate", JUNIPER, "--damper", "40%", "--units", "us").out
    for words in (("--damper", "40%", "--units", "us", "estimate", JUNIPER),
                  ("estimate", "--units=us", JUNIPER, "--damper=40%"),
                  ("estimate", "--units", "us", "--damper", "40%", "--", JUNIPER),
                  ("--units", "us", "--", "estimate", JUNIPER)):
        if words[-2] == "estimate":
            words = ("--damper", "40%", *words)
        need(h.run(*words).out == first, f"{words}: other output")


def test_double_dash_ends_the_options(h):
    path = h.folder("dash") / "--damper"
    shutil.copy(JUNIPER, path)
    done = h.run("estimate", "--", "--damper", cwd=path.parent)
    need(done.out.startswith("Juniper Flat"), f"{done}")
    done = h.run("estimate", JUNIPER, "--", "--strict", code=2)
    need("--strict" in done.err, f"{done}")


def test_the_last_setting_counts(h):
    once = h.run("estimate", JUNIPER, "--damper", "40%").out
    for words in (("--damper", "10%", "--damper", "40%"), ("--set", "damper=10%", "--damper", "40%"),
                  ("--damper", "10%", "--set", "flues.back flue.damper.open=40%"),
                  ("--damper", "10%", "--set", "kiln.flues.back flue.damper.open=40 %"),
                  ("--set", "flues.*.damper.open=40%",)):
        need(h.run("estimate", JUNIPER, *words).out == once, f"{words}: other output")
    twice = h.run("estimate", JUNIPER, "--format", "csv", "--format", "json").out
    parse(twice)


def test_sweep_row_is_the_estimate(h):
    rows = parse(h.run("sweep", JUNIPER, "--vary", "damper=30,70%", "--vary",
                       "temperature=900, 1100 degC", "--format", "json").out)["rows"]
    need(len(rows) == 4, f"{len(rows)} rows")
    for row in rows:
        one = estimate(h, JUNIPER, "--damper", f"{100 * row['damper']} %", "--temperature",
                       f"{row['temperature_k']} K")
        for key in ("equivalence_ratio", "flue_flow_kg_s", "spill_kg_s", "probe_emf_v"):
            need(math.isclose(row[key], one[key], rel_tol=1e-9), f"{key}: {row[key]} {one[key]}")


# ---- input ---------------------------------------------------------------------------------------


def need_quick(h, limit_s, *words, **more):
    start = time.monotonic()
    done = h.run(*words, **more)
    took = time.monotonic() - start
    need(took < limit_s, f"{done}: took {took:.1f} s")
    return done


def test_odd_input_is_refused_quickly(h):
    folder = h.folder("odd")
    large = folder / "large.yaml"
    large.write_bytes(JUNIPER.read_bytes() + b"# more\n" * 1_500_000)
    done = need_quick(h, 5, "estimate", large, code=3)
    need("larger than" in done.err, f"{done}: says not that it is too large")
    need_quick(h, 5, "estimate", "-", code=3, stdin=large.read_bytes())
    for text in ("", "\n\n", "# nothing\n", "---\n", "\0", "\xff\xfe", "{", "- 1\n", "text",
                 "[" * 100_000, "{a: " * 100_000, "- " * 100_000 + "\n", "a" * 1_000_000,
                 "".join("  " * i + "a:\n" for i in range(1000)),
                 "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n", "damperwise: 1\n" * 100_000,
                 "damperwise: 1\nkiln: {name: \x1b[31mred}\n"):
        done = need_quick(h, 10, "estimate", "-", code=3, stdin=text)
        need(done.err.strip() and done.out == "", f"{done}: {text[:20]!r} gives no message")
        need(len(done.err) < 20_000, f"{text[:20]!r} gives {len(done.err)} bytes of messages")
        need(not re.search(r"[\x00-\x09\x0b-\x1f\x7f]", done.err), f"{text[:20]!r}: control bytes")
    empty = folder / "empty.yaml"
    empty.touch()
    need("nothing" in h.run("estimate", empty, code=3).err, "an empty file is not named so")
    need("irectory" in h.run("estimate", folder, code=3).err, "a folder is not named so")


def test_messages_name_file_line_and_column(h):
    for path in sorted((ROOT / "tests" / "bad_input").glob("*.yaml")):
        if path.read_text(encoding="utf-8", errors="replace").startswith("# set:"):
            continue
        done = h.run("check", path, code=None)
        if done.code == 3:
            need(re.match(re.escape(str(path)) + r"(:\d+:\d+)?: (error|warning|note)", done.err),
                 f"{done}: no place")


# ---- exit codes ----------------------------------------------------------------------------------


def test_messages_have_no_powers_of_ten(h):
    marlpit = "examples/room-marlpit-cellar.yaml"
    for words in (("room", marlpit), ("estimate", marlpit), ("exposure", "--ppm", "12000", "--hours", "2"),
                  ("room", marlpit, "--set", "room.hood_capture=0%", "--set", "room.volume=8 m3")):
        done = h.run(*words, "--format", "csv")
        need(done.err, f"{done}: no message")
        need(not re.search(r"\de[-+]\d", done.err), f"{done}: a power of ten")


def test_exit_codes(h):
    raku = ROOT / "examples" / "thistledown-raku.yaml"
    wrong = [(), ("fire", JUNIPER), ("estimate",), ("estimate", JUNIPER, JUNIPER), ("sweep", JUNIPER),
             ("estimate", JUNIPER, "--format", "xml"), ("estimate", JUNIPER, "--units", "si"),
             ("estimate", JUNIPER, "--set", "damper"), ("estimate", JUNIPER, "-v"),
             ("check", "--keys", JUNIPER), ("sweep", JUNIPER, "--vary", "damper"),
             ("estimate", JUNIPER, "--vary", "damper=1..2%:1%"), ("estimate", JUNIPER, "--config", "")]
    for words in wrong:
        done = h.run(*words, code=2)
        need(done.out == "" and "--help" in done.err, f"{done}: wrong usage")
    for words in (("estimate", "none.yaml"), ("estimate", JUNIPER, "--damper", "101%"),
                  ("estimate", JUNIPER, "--config", "/nowhere"),
                  ("sweep", JUNIPER, "--vary", "damper=1..2:0")):
        done = h.run(*words, code=3)
        need(done.out == "" and done.err, f"{done}: bad input")
    for words in (("estimate", JUNIPER), ("estimate", JUNIPER, "--strict"), ("check", JUNIPER),
                  ("--help",), ("--version",), ("estimate", "--help", "no-such-file"),
                  ("estimate", raku, "--damper", "1%")):
        h.run(*words, code=0)
    done = h.run("estimate", raku, "--damper", "1%", "--strict", code=3)
    need(done.out.startswith("Thistledown"), f"{done}: --strict keeps the results back")
    for words, count in ((("damper=1, 50, 60%",), 1), (("damper=50, 60%",), 0)):
        done = h.run("sweep", raku, "--vary", *words, "--strict", code=3 if count else 0)
        need(("1 of 3 points have a warning" in done.err) == bool(count), f"{done}")
    h.run("estimate", JUNIPER, *NOT_SOLVED, code=4)
    h.run("estimate", JUNIPER, *NOT_SOLVED, "--strict", code=4)
    h.run("sweep", JUNIPER, "--damper", "0%", "--vary", "gas_pressure=390, 400 kPa", code=4)
    words = ("sweep", JUNIPER, "--damper", "0%", "--vary", "gas_pressure=20, 400 kPa")
    need("1 of 2 points have no solution" in h.run(*words).err, "unsolved points are not named")
    h.run(*words, "--strict", code=3)


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
