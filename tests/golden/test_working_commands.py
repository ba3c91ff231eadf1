"""The working of oxides, ladder, room and exposure as it is printed: every number of the report has its
steps, and a reader who works them out with the printed numbers gets the printed results.
"""

import json
import re
import sys

import harness
from harness import JUNIPER, ROOT, need
from working_sheet import (Working, check_arithmetic, check_keys, check_order, check_reasons,
                           check_text, check_width, count_noticed, leaves)

KILNS = ROOT / "examples"
MARLPIT = KILNS / "room-marlpit-cellar.yaml"
SALTHOLME = KILNS / "room-saltholme-yard.yaml"
LANE = KILNS / "oxides-candlewick-lane.yaml"
HEADACHE = KILNS / "helper-headache.csv"
GLAZE = "{SiO2: 66 %, Al2O3: 14 %, CaO: 12 %, MgO: 1 %, K2O: 4 %, Na2O: 1 %, Fe2O3: 2 %}"

# For each command what may have no step although it is a number, and why.
ALLOWED = {
    "oxides": [
        r"sensor_temperature_k",                    # put in
        r"windows\.\d+\.(from|to)_k",              # a condition of config/oxides.yaml
    ],
    "ladder": [
        r"unmixedness",                             # put in
        r"rungs\.\d+\.equivalence_ratio",           # put in: the steps of the ladder
    ],
    "room": [
        r"room\.pressure_pa",                       # put in, or the stack turns round: nothing balances
        r"room\.duration_s",                        # put in, or its default
        r"room\.likely_cohb_peak",                  # the blood once more, at the likely level
        r"room\.residual_pa",                       # the stack turns round: nothing balances
        r"room\.pressure_without_fan_pa",           # the room lets nothing in: no opening sets it
        r"places\.\d+\.height_m",                   # put in, or the middle of the part gas leaves by
        r"course\.0\.time_s",                       # the beginning
        r"limits\.\d+\.(averaging_time_s|ppm|mg_m3)",  # limits of config/co.yaml
        r"alarms\.\d+\.(ppm|window_(from|by)_s)",   # rules of config/co.yaml
        r"people\.effects\.\d+\.cohb|people\.effects_by_ppm\.\d+\.ppm",  # levels of config/co.yaml
        r"doubt\.\d+\.co_(low|high)_end_ppm",       # kiln and room worked out again, once each
        r"lighting\.corner_volume_m3",              # put in
        r"lighting\.purge_volumes",                 # a rule of config/co.yaml
    ],
    "exposure": [
        r"exposure\.duration_s",                    # put in, without a series
        r"course\.\d+\.time_s",                     # put in, in a series
        r"limits\.\d+\.(averaging_time_s|ppm|mg_m3)",
        r"alarms\.\d+\.(ppm|window_(from|by)_s)",
        r"people\.effects\.\d+\.cohb|people\.effects_by_ppm\.\d+\.ppm",
    ],
}

CASES = {
    "oxides": [
        ["oxides", JUNIPER],                                          # parcels for and against
        ["oxides", LANE],
        ["oxides", JUNIPER, "--temperature", "1250 degC", "--glaze", GLAZE],
        ["oxides", JUNIPER, "--temperature", "1240 degC", "--damper", "70%"],
        ["oxides", JUNIPER, "--temperature", "620 degC"],             # colder than reactions freeze
        ["oxides", JUNIPER, "--temperature", "420 degC"],             # too cold for oxygen
        ["oxides", JUNIPER, "--set", "model.unmixedness=0"],
        ["oxides", "--at", "1240 degC", "--volts", "0.61", "--sensor", "zirconia"],
        ["oxides", "--at", "1240 degC", "--volts", "0.82", "--sensor", "heated", "--sensor-temperature",
         "700 degC"],
        ["oxides", "--at", "760 degC", "--volts", "0.05", "--sensor", "zirconia", "--fuel", "methane"],
        ["oxides", "--at", "1180 degC", "--volts", "0.1 mV", "--sensor", "zirconia"],    # air
        ["oxides", "--at", "1180 degC", "--volts", "0.1 mV", "--sensor", "heated", "--sensor-temperature",
         "780 degC"],
        ["oxides", "--at", "1180 degC", "--volts", "1.4", "--sensor", "zirconia"],  # richer than any
        ["oxides", "--at", "1280 degC", "--co-co2", "0.2", "--glaze", GLAZE],
        ["oxides", "--at", "905 degC", "--h2-h2o", "0.13"],
        ["oxides", "--at", "1311 degC", "--log-po2", "-7.3", "--glaze", "tenmoku"],
    ],
    "ladder": [
        ["ladder", JUNIPER],
        ["ladder", LANE, "--temperature", "1253 degC"],
        ["ladder", JUNIPER, "--temperature", "610 degC"],             # two equilibria a rung
        ["ladder", JUNIPER, "--set", "model.unmixedness=0"],
    ],
    "room": [
        ["room", MARLPIT],
        ["room", SALTHOLME, "--set", "room.duration=45 min"],
        ["room", SALTHOLME, "--set", "room.duration=6 h", "--set", "room.exhaust_fan_flow=350 m3/h"],
        ["room", SALTHOLME, "--set", "room.duration=3 h", "--set", "site.room_pressure=-3 Pa"],
        ["room", SALTHOLME, "--set", "room.duration=2 h", "--set", "room.air_changes_per_hour=0"],
                                                                      # closed: it gathers for ever
        ["room", MARLPIT, "--set", "room.duration=90 min", "--damper", "100%", "--set",
         "room.purge_fan_flow=200 m3/h", "--set", "room.person.height=1.62 m", "--set",
         "room.person.mass=58 kg"],
        ["room", MARLPIT, "--set", "room.duration=30 min", "--set", "room.air_changes_per_hour=0.02", "--set",
         "room.make_up_area=20 cm2", "--set", "room.exhaust_fan_flow=0 m3/h"],  # gas pushes the air out
        ["room", SALTHOLME, "--set", "room.duration=50 min", "--set", "room.make_up_area=0 cm2", "--set",
         "room.leak_area=0 cm2", "--set", "room.exhaust_fan_flow=900 m3/h"],  # burners pushed back
    ],
    "exposure": [
        ["exposure", "--series", HEADACHE],
        ["exposure", "--series", HEADACHE, "--activity", "rest", "--smoker", "--symptoms"],
        ["exposure", "--ppm", "60", "--hours", "4", "--activity", "light"],
        ["exposure", "--ppm", "400", "--hours", "50 min", "--height", "1.62 m", "--mass", "58 kg",
         "--sex", "female", "--pressure", "84 kPa"],
        ["exposure", "--ppm", "0", "--hours", "9", "--smoker"],       # it falls
        ["exposure", "--ppm", "35", "--hours", "300"],                # to its end, where y is nought
    ],
}

_made = {}


def workings(h, command):
    """Made once for all tests."""
    if command not in _made:
        _made[command] = [Working(h, *args) for args in CASES[command]]
    return _made[command]


def _keys(h, command, least):
    worked = 0
    for w in workings(h, command):
        worked += check_keys(w)[0]
        check_reasons(w, ALLOWED[command])
    need(worked > least, f"only {worked} numbers with a working")


def test_every_key_of_oxides_has_its_working(h):
    _keys(h, "oxides", 1000)


def test_every_key_of_ladder_has_its_working(h):
    _keys(h, "ladder", 600)


def test_every_key_of_room_has_its_working(h):
    _keys(h, "room", 1500)


def test_every_key_of_exposure_has_its_working(h):
    _keys(h, "exposure", 600)


def _arithmetic(h, command, least):
    checked = sum(check_arithmetic(w) for w in workings(h, command))
    need(checked > least, f"only {checked} steps checked")


def test_printed_numbers_give_printed_results_in_oxides(h):
    _arithmetic(h, "oxides", 1300)


def test_printed_numbers_give_printed_results_in_ladder(h):
    _arithmetic(h, "ladder", 700)


def test_printed_numbers_give_printed_results_in_room(h):
    _arithmetic(h, "room", 1200)


def test_printed_numbers_give_printed_results_in_exposure(h):
    _arithmetic(h, "exposure", 250)


def test_a_wrong_number_would_be_seen(h):
    for command, least in (("oxides", 100), ("ladder", 60), ("room", 100), ("exposure", 8)):
        seen = count_noticed(workings(h, command)[0], 1.0003)
        need(seen > least, f"{command}: only {seen} steps notice a number that is off by 3 in 10000")


def test_the_text_prints_what_the_json_says_in_80_columns(h):
    for command in CASES:
        for w in workings(h, command):
            check_text(w)
            check_width(w)
            check_order(w)


def test_what_is_found_by_solving_says_by_which_balance(h):
    wanted = {"oxides": {"z_l", "z_h", "z_q", "pi_C", "pi_E", "n", "p", "M_gas"},
              "ladder": {"z_p", "pi_C", "pi_H", "pi_E", "pi_N", "n"},
              "room": {"p_bal", "p_room", "t_x", "y", "p"},
              "exposure": {"t_x", "y"}}
    for command, symbols in wanted.items():
        found = {s.get("solved_for") for s in workings(h, command)[0].steps}
        for symbol in symbols:
            need(symbol in found, f"{command}: no balance for {symbol}")


def test_an_air_that_leads_elsewhere_is_seen(h):
    """The blood's balance closes for the level that is printed and for no other."""
    w = workings(h, "exposure")[0]
    step = next(s for s in w.steps if s.get("solved_for") == "y")
    numbers = w.put_in(step, "values")
    for y, y_0, tau, left in zip(numbers["y"], numbers["y_0"], numbers["tau"], step["left"]):
        need(abs(1.001 * y - y) > 0 and abs(left) > 0, "nothing to see")
        moved = 1.001 * y * 2.718281828459045 ** (1.001 * y - y_0)
        wanted = y_0 * 2.718281828459045 ** -tau
        need(abs(moved - wanted) > 5e-4 * abs(wanted), f"{y} moved is not seen")


def test_numbers_of_the_first_screen_have_their_steps(h):
    """What only the text has: the mean at the upper end, litres a minute."""
    for w in workings(h, "room"):
        screen = w.json["steps"]
        here = [s for s in screen if s.get("symbol") == "C_here"]
        room = w.report["room"]
        if not room["co_known"] or room["spread_incomplete"]:
            need(not here, f"{w.name}: a mean at an upper end that is not known")
            continue
        need(len(here) == 1, f"{w.name}: no highest mean at the upper end")
        need(any(s.get("symbol") == "q_min" for s in screen), f"{w.name}: no litres a minute")


def test_formats(h):
    for args, word in ((["oxides", JUNIPER], "lg_pO2 = "), (["ladder", JUNIPER], "Rungs"),
                       (["room", SALTHOLME, "--set", "room.duration=1 h"], "C_end = "),
                       (["exposure", "--ppm", "60", "--hours", "4"], "y*exp(y - y_0)")):
        html = h.run(*args, "--working", "--format", "html").out
        for part in ("<!doctype html>", "viewport", word, "</html>"):
            need(part in html, f"{args[0]}: the page has no {part}")
        need("http" not in re.sub(r"https?://\S*", "", html) and "<script" not in html,
             f"{args[0]}: the page asks for something from elsewhere")
        csv = h.run(*args, "--working", "--format", "csv").out
        need(csv.startswith("key,value,unit,label"), f"{args[0]}: {csv[:40]}")
    us = h.run("room", SALTHOLME, "--set", "room.duration=1 h", "--working", "--units", "us").out
    need("in the report: " in us and " lb/h" in us, "results are not shown in US units")


def test_one_row_of_many(h):
    vary = ["--vary", "damper=20..80%:20%"]
    for command, kiln in (("oxides", JUNIPER), ("room", SALTHOLME)):
        more = ["--set", "room.duration=30 min"] if command == "room" else []
        alone = json.loads(h.run(command, kiln, *more, "--damper", "40%", "--format", "json").out)
        point = json.loads(h.run(command, kiln, *more, *vary, "--at-point", "2", "--format", "json").out)
        need(point == alone, f"{command}: row 2 is not a damper of 40 %")
        worked = json.loads(h.run(command, kiln, *more, *vary, "--at-point", "2", "--working", "--format",
                                  "json").out)
        need(worked["steps"], f"{command}: no steps")
        done = h.run(command, kiln, *more, *vary, "--working", code=2)
        need("--working needs --at-point N" in done.err, str(done))
        done = h.run(command, kiln, "--at-point", "2", code=2)
        need("needs --vary" in done.err, str(done))
    at = ["--at", "1250 degC..1050 degC:100 degC", "--volts", "0.6", "--sensor", "zirconia"]
    point = json.loads(h.run("oxides", *at, "--at-point", "2", "--format", "json").out)
    alone = json.loads(h.run("oxides", "--at", "1150 degC", "--volts", "0.6", "--sensor", "zirconia", "--format",
                             "json").out)
    need(dict(leaves(point)) == dict(leaves(alone)), "row 2 is not 1150 degC")
    worked = h.run("oxides", *at, "--at-point", "2", "--working").out
    need("T_gas = 1423.15 K" in worked, "the working is of another row")
    done = h.run("oxides", *at, "--working", code=3)
    need("--at-point N" in done.err, str(done))
    done = h.run("oxides", *at, "--at-point", "4", code=3)
    need("1 to 3" in done.err, str(done))
    for args in (["ladder", JUNIPER], ["exposure", "--ppm", "9", "--hours", "1"]):
        done = h.run(*args, "--at-point", "1", code=2)
        need("--at-point is an option of" in done.err, str(done))


def test_what_is_not_solved_has_no_steps(h):
    hill = KILNS / "oxides-rushlight-hill.yaml"
    shut = ["--set", "openings.ports round the burners.open=0%", "--damper", "2%", "--gas-pressure",
            "20 kPa"]
    sealed = ["--set", "room.air_changes_per_hour=0", "--set", "room.exhaust_fan_flow=0 m3/h"]
    for args in (["oxides", hill, *shut], ["room", MARLPIT, *sealed],
                 ["ladder", JUNIPER, "--temperature", "300 degC"]):
        done = h.run(*args, "--working", code=4)
        need("How the numbers come about" not in done.out and done.out, str(done))
        need(done.err, str(done))
    h.run("room", JUNIPER, "--working", code=3)
    h.run("oxides", JUNIPER, "--working", "--glaze", "unknown", code=3)


def test_a_series_too_long_for_a_working(h):
    rows = "".join(f"{i},{10 + i % 7}\n" for i in range(5003))
    series = h.folder("long-series") / "meter.csv"
    series.write_text("time_min,ppm\n" + rows, encoding="utf-8")
    h.run("exposure", "--series", series)
    done = h.run("exposure", "--series", series, "--working", code=3)
    need("5002 are too many" in done.err, str(done))


if __name__ == "__main__":
    harness.main(__doc__, harness.tests_of(sys.modules[__name__]))
