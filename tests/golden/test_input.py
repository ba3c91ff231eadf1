"""What is typed: shares, changes and ranges by every way in, what reaches nothing, and units as they were typed.

    python3 tests/golden/test_input.py --program build/src/damperwise
"""

import json
import re
import sys

from harness import JUNIPER, ROOT, main, need, tests_of

QUAY, CAR = ROOT / "examples" / "gannet-quay.yaml", ROOT / "examples" / "tollgate-car-kiln.yaml"
FENNELBANK = ROOT / "examples" / "fennelbank-school.yaml"
COTTONWOOD = ROOT / "examples" / "cottonwood-bench.yaml"
MARLPIT = ROOT / "examples" / "room-marlpit-cellar.yaml"


def refused(h, said, *words, **more):
    done = h.run(*words, code=3, **more)
    need(said in done.err, f"{done}: does not say {said!r}")
    need(done.out == "", f"{done}: writes results")
    return done


def ways(path, value, short=None):
    """The same input by every way in."""
    out = [("--set", f"{path}={value}")]
    if short:
        out.append((f"--{short}", value))
    return out


# ---- shares, changes, ranges ---------------------------------------------------------------------


def test_bare_shares_are_refused_by_every_way_in(h):
    for value, said in (("1", "write 1 % or 100 %"), ("0.6", "write 60 % or 0.6 %"), ("30", "write 30 %"),
                        ("0", "write 0 %"), ("300", "expected a share in per cent")):
        for words in ways("flues.back flue.damper.open", value, "damper"):
            refused(h, f"'{value}' has no unit" + (": " if "write" in said else ", ") + said, "estimate", JUNIPER, *words)
        refused(h, said, "sweep", JUNIPER, "--vary", f"damper={value}")
        text = JUNIPER.read_text(encoding="utf-8").replace("open: 60 %", f"open: {value}")
        refused(h, said, "estimate", "-", stdin=text)
    for key in ("site.relative_humidity", "chamber.packed", "burners.left pair.shutter",
                "openings.door gap.open", "flues.back flue.damper.leak"):
        refused(h, "'0.4' has no unit: write 40 % or 0.4 %", "check", JUNIPER, "--set", f"{key}=0.4")
    # Pure numbers are typed bare, and the spread of the mixture either way.
    for pure in ("burners.left pair.inlet_loss=0.4", "model.unmixedness=0.06", "model.unmixedness=6 %"):
        h.run("check", JUNIPER, "--set", pure)
    need(h.run("estimate", JUNIPER, "--set", "model.unmixedness=0.06", "--format", "json").out ==
         h.run("estimate", JUNIPER, "--set", "model.unmixedness=6 %", "--format", "json").out, "0.06 is not 6 %")


def test_a_change_is_refused_with_the_new_value(h):
    for words, said in ((("--set", "stack.height=+1 m"), "'+1 m'; a change cannot be given, write the new value: 4.6 m"),
                        (("--damper", "+10 %"), "write the new value: 70 %"),
                        (("--gas-pressure", "+5 kPa"), "write the new value: 25 kPa"),
                        (("--temperature", "+50 degC"), "write the new value: 1050 degC"),
                        (("--damper", "+90 %"), "without a plus sign: 90 %")):
        refused(h, said, "estimate", JUNIPER, *words)
    refused(h, "write the value itself: 10 %", "sweep", JUNIPER, "--vary", "damper=+10..60 %:5 %")
    # What can be negative may have a sign.
    for words in ("site.air_temperature=+5 degC", "site.room_pressure=+2 Pa", "stack.base_height=+0.1 m"):
        h.run("estimate", JUNIPER, "--set", words)


def test_ranges_are_suggested_and_can_be_obeyed(h):
    for typed, write in (("20-60", "20..60:5 %"), ("20 to 60 %", "20..60 %:5%"), ("20..60%", "20..60%:5 %"),
                         ("0.2..0.6:0.1", "20..60:10 %"), ("20..60:5", "20..60:5 %")):
        done = refused(h, write, "sweep", JUNIPER, "--vary", f"damper={typed}")
        need(done.err.rstrip().endswith(f"{write} [bad-range]"), str(done))
        rows = json.loads(h.run("sweep", JUNIPER, "--vary", f"damper={write}", "--format", "json").out)["rows"]
        need(rows[0]["damper"] == 0.2 and rows[-1]["damper"] == 0.6, f"{write}: {len(rows)} rows")


# ---- what reaches nothing ------------------------------------------------------------------------


def test_overrides_that_reach_nothing_are_errors(h):
    for kiln, words, said in (
            (JUNIPER, ("--air-pressure", "20 kPa"), "no lit burner has an air jet"),
            (JUNIPER, ("--set", "burners.left pair.air_jet.diameter=1 mm"), "there is no air_pressure"),
            (JUNIPER, ("--set", "burners.*.gas_pressure=3 kPa", "--gas-pressure", "9 kPa"),
             "every lit burner has a gas_pressure of its own"),
            (JUNIPER, ("--set", "stack.relief_discharge_coefficient=0.7"), "there is no relief_opening"),
            (JUNIPER, ("--set", "openings.upper spyhole.area=3 cm2"), "this opening is closed"),
            (FENNELBANK, ("--set", "site.room_pressure=-3 Pa"), "there is no stack"),
            (CAR, ("--set", "burners.*.shutter=40 %"), "the kind is blown"),
            (CAR, ("--set", "burners.*.port_temperature_ratio=2"), "the kind is blown")):
        refused(h, said, "estimate", kiln, *words)
    for path, said in (("air_pressure=0..20 kPa:5 kPa", "no lit burner has an air jet"),
                       ("stack.relief_discharge_coefficient=0.6,0.7", "there is no relief_opening")):
        refused(h, said, "sweep", JUNIPER, "--vary", path)


def test_overrides_that_reach_something_are_taken(h):
    h.run("estimate", QUAY, "--air-pressure", "50 kPa")
    h.run("estimate", JUNIPER, "--air-pressure", "0 kPa")          # as it is anyway
    h.run("sweep", JUNIPER, "--air-pressure", "50 kPa", "--vary", "burners.*.air_jet.diameter=0..2 mm:1 mm")
    h.run("sweep", JUNIPER, "--vary", "air_pressure=0..50 kPa:50 kPa", "--vary",
          "burners.*.air_jet.diameter=0..2 mm:1 mm")
    h.run("sweep", JUNIPER, "--set", "openings.upper spyhole.area=3 cm2", "--vary",
          "openings.upper spyhole.open=0..100 %:50 %")


def test_idle_keys_of_a_file_are_noted(h):
    text = JUNIPER.read_text(encoding="utf-8").replace("air_pressure: 0 kPa", "air_pressure: 9 kPa")
    for command in ("estimate", "check"):
        done = h.run(command, "-", stdin=text)
        need(re.search(r"<stdin>:\d+:3: note: 'operating\.air_pressure' has no effect: ", done.err), str(done))
    for kiln in sorted((ROOT / "examples").glob("*.yaml")):
        need("no-effect" not in h.run("check", kiln).err, f"{kiln.name} has a key without effect")


def test_a_kiln_without_openings_is_doubted(h):
    for command in ("estimate", "check", "ladder"):
        done = h.run(command, JUNIPER, "--set", "openings=[]", code=None)
        need("warning: 'kiln.openings' is missing" in done.err, str(done))
    need("no-openings" not in h.run("check", JUNIPER).err, "an example with openings is doubted")


def test_the_lower_limit_of_the_air_is_solved(h):
    for typed in ("-40 degC", "-40 degF", "233.15 K", "60 degC"):
        h.run("estimate", JUNIPER, "--set", f"site.air_temperature={typed}")


# ---- units as they were typed --------------------------------------------------------------------


def test_text_and_pages_keep_the_unit_that_was_typed(h):
    words = ("--gas-pressure", "7 in w.c.", "--temperature", "1830 degF")
    for form in ("text", "html"):
        out = h.run("estimate", JUNIPER, *words, "--format", form).out.replace("&nbsp;", " ")
        need("gas 7 in w.c., damper 60 %, chamber 1830 degF" in out, f"{form}: {out[:200]}")
        need("1.74 kPa" not in out.split("Flows", 1)[0], f"{form}: the pressure is shown in kPa too")
        need(len(re.findall(r"\b7 in w\.c\.", out)) >= 2, f"{form}: only the title has it")
    out = h.run("check", COTTONWOOD).out
    for shown in (r"elevation +850 ft\b", r"width +30 in\b", r"area +40 in2\b", r"gas_pressure +7 in w\.c\.",
                  r"chamber_temperature +2100 degF", r"diameter +3\.988 mm \[given as jet\.drill 22\]"):
        need(re.search(shown, out), f"check does not show {shown}")
    rows = h.run("sweep", JUNIPER, "--vary", "burners.left pair.jet.diameter=2..3 mm:0.5 mm").out
    need("from 2 mm to 3 mm" in rows and re.search(r"^ +2\.5  ", rows, re.M), rows[:600])
    rows = h.run("sweep", JUNIPER, "--vary", "burners.left pair.jet.diameter=3/32 in,1/8 in").out
    need("from 0.09375 in to 0.125 in" in rows, rows[:300])
    out = h.run("room", MARLPIT, "--set", "room.volume=1500 ft3").out
    need("in its room of 1500 ft3" in out, out[:200])
    out = h.run("ladder", JUNIPER, "--temperature", "2300 degF").out
    need("at 2300 degF" in " ".join(out.split()), out[:200])
    one = h.run("sweep", JUNIPER, "--vary", "gas_pressure=3..9 in w.c.:3 in w.c.", "--at-point", "2").out
    need("gas 6 in w.c." in one, one[:200])


def test_us_readers_get_us_units_of_what_was_typed_in_others(h):
    out = h.run("estimate", JUNIPER, "--units", "us").out
    need("gas 2.901 psi, damper 60 %, chamber 1832 degF" in out, out[:200])
    out = h.run("estimate", JUNIPER, "--units", "us", "--gas-pressure", "6 osi").out
    need("gas 6 osi" in out, out[:200])


def test_a_bare_range_is_shares_only_when_all_of_it_are(h):
    for typed, said in (("0.2..0.6:0.1", "write 20..60:10 %"), ("0.2..60:0.1", "write 0.2..60:0.1 %"),
                        ("0.2..0.6:10", "write 0.2..0.6:10 %"), ("20..60:0.1", "write 20..60:0.1 %")):
        refused(h, said, "sweep", JUNIPER, "--vary", f"damper={typed}")


def test_a_key_is_set_in_a_map_with_nothing_in_it(h):
    text = JUNIPER.read_text()
    answers = []
    for begin in ("  site:\n", ""):
        path = h.scratch / "blank.yaml"
        path.write_text(re.sub(r"  site:\n(?:    .*\n)+", begin, text))
        need("elevation" not in path.read_text(), "the site is still described")
        answers.append(h.run("estimate", path, "--set", "site.elevation=500 m", "--format", "json").out)
    need(answers[0] == answers[1], "`site:` with nothing behind it is not the same as no site")


def test_json_and_csv_do_not_depend_on_the_unit_typed(h):
    for form in ("json", "csv"):
        one = h.run("estimate", JUNIPER, "--gas-pressure", "2 kPa", "--format", form).out
        other = h.run("estimate", JUNIPER, "--gas-pressure", "20 mbar", "--format", form).out
        need(one == other, f"{form} depends on the unit")
        one = h.run("sweep", JUNIPER, "--vary", "gas_pressure=2,3 kPa", "--format", form).out
        other = h.run("sweep", JUNIPER, "--vary", "gas_pressure=20,30 mbar", "--format", form).out
        need(one == other, f"{form} of a sweep depends on the unit")


# ---- keys ----------------------------------------------------------------------------------------


def test_keys_name_every_choice(h):
    """What --keys lists is what is taken, word by word."""
    keys = {k["path"]: k["expected"]
            for k in json.loads(h.run("check", "--keys", "--format", "json").out)["keys"]}
    tried = 0
    for path in ("kiln.stack.lining", "kiln.stack.cap", "kiln.stack.section", "kiln.fuel"):
        words = re.split(r", | or ", keys[path].split(";")[0])
        need(len(words) > 1, f"{path}: {keys[path]}")
        for word in words:
            tried += 1
            h.run("check", JUNIPER, "--set", f"{path}={word}")
        refused(h, words[-1], "check", JUNIPER, "--set", f"{path}=nonsense")
    need(tried > 15, f"{tried} words")
    need(not any("the name of a" in text for text in keys.values()), "a choice is not listed")


def test_keys_name_what_the_folder_of_data_holds(h):
    folder = h.folder("keys-data")
    text = (ROOT / "config" / "flow.yaml").read_text(encoding="utf-8")
    (folder / "flow.yaml").write_text(text.replace("name: fibre,", "name: moler brick,"), encoding="utf-8")
    out = h.run("check", "--keys", "--config", folder, "--format", "csv").out
    need("moler brick" in out and "fibre" not in out.split("kiln.stack.lining", 1)[1].split("\n")[0], out[:100])


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
