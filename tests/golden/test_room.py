"""What `room` says of states that it cannot know, of its own checks, and of what it assumes.

    python3 tests/golden/test_room.py --program PATH [TEST...]
"""

import csv
import json
import re
import sys

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import EXAMPLES, ROOT, main, need, tests_of  # noqa: E402
from working_sheet import leaves  # noqa: E402

MARLPIT = ROOT / "examples" / "room-marlpit-cellar.yaml"


def sets(*pairs):
    """--set for each."""
    return [word for pair in pairs for word in ("--set", pair)]


def answer(h, *args, code=0):
    """The JSON of a run."""
    return json.loads(h.run(*args, "--format", "json", code=code).out)


# ---- lighting out of range ------------------------------------------------------------------------


def test_a_bitter_cold_room_is_answered_with_its_lighting(h):
    cold = sets("site.room_temperature=-24 degC")
    for kiln in (MARLPIT, ROOT / "examples" / "room-saltholme-yard.yaml"):
        for working in ((), ("--working",)):
            done = h.run("room", kiln, *cold, "--temperature", "1000 degC", *working)
            need("error" not in done.err, f"{done}: an error beside an answer")
        of = answer(h, "room", kiln, *cold, "--temperature", "1000 degC")
        need(of["solved"] is True and of["room"]["verdict"], "the room is solved")
        need(of["lighting"]["solved"] is True, "and so is the lighting")


def test_lighting_out_of_range_does_not_change_what_not_solved_means(h):
    done = h.run("room", MARLPIT, "--gas-pressure", "400 kPa", "--damper", "0 %",
                 *sets("site.room_temperature=-24 degC", "burners.*.shutter=0 %"), code=4)
    need("far too rich" in done.err, f"{done}: the reason is missing")


# ---- what the room's air adds up to ---------------------------------------------------------------


def test_a_balance_that_is_printed_adds_up(h):
    for changes in ("0.0001", "0.5", "20", "200"):
        for duration in ("1 min", "12 h", "30 d"):
            room = answer(h, "room", MARLPIT, "--damper", "5 %",
                          *sets(f"room.air_changes_per_hour={changes}", f"room.duration={duration}",
                                "room.make_up_area=100 cm2", "room.hood_capture=0 %",
                                "room.exhaust_fan_flow=0 m3/h"))["room"]
            need(room["closure_co"] < 1e-9, f"{changes} changes, {duration}: {room['closure_co']}")
            share = 1e6 * room["co_content_wet"] + 1.0  # and what comes from outside
            need(room["co_end_ppm"] <= share * (1 + 1e-9) and room["co_steady_ppm"] <= share * (1 + 1e-9),
                 f"{changes} changes, {duration}: more CO than in the gas that comes in")
            need(room["co_end_high_ppm"] < 237e3 + 1.0,
                 "no gas of propane holds more than 3 mol of CO in 12.6")


# ---- what comes into the room ---------------------------------------------------------------------

ROOM = "room={volume: 60 m3, air_changes_per_hour: 1, make_up_area: 0.2 m2}"
WAYS = ("into_room_kg_s", "into_room_by_openings_kg_s", "into_room_by_flues_kg_s")


def test_estimate_and_room_agree_on_what_comes_into_the_room(h):
    by_flues = 0
    # All of them: few have flues that end in the room.
    for kiln in sorted((ROOT / "examples").glob("*.yaml")):
        room = answer(h, "room", kiln, *sets(ROOM))
        pressure = f"site.room_pressure={room['room']['pressure_pa']:.12g} Pa"
        estimate = answer(h, "estimate", kiln)
        # Without a stack the pressure of the room does nothing, and setting it is refused.
        if not room["room"]["pressure_given"] and estimate["draft_stack_base_pa"] is not None:
            estimate = answer(h, "estimate", kiln, *sets(pressure))
        back = any(d["code"] == "burner-pushed-back" for d in estimate["diagnostics"])
        need(not back, f"{kiln.name}: a burner is pushed back")
        for key in WAYS:
            a, b = estimate[key], room["room"][key]
            need(abs(a - b) <= 1e-6 * max(a, 1e-3), f"{kiln.name}: {key} {a} in estimate, {b} in room")
        need(abs(estimate[WAYS[0]] - estimate[WAYS[1]] - estimate[WAYS[2]]) < 1e-12, f"{kiln.name}: parts")
        by_flues += estimate[WAYS[2]] > 0
        codes = {d["code"] for d in estimate["diagnostics"]}
        need(bool(codes & {"flues-into-room", "flues-into-room-burnt"}) == (estimate[WAYS[2]] > 0),
             f"{kiln.name}: flues that end in the room are not said, or said of others")
    need(by_flues >= 3, "no example has flues that end in the room")


def test_first_screens_give_both_ways_into_the_room(h):
    screen = h.run("estimate", ROOT / "examples" / "fennelbank-school.yaml").out.split("\n\n")[0]
    need("59 kg/h" in screen and "by flues into the room" in screen and "5.0 kg/h" in screen,
         f"Fennelbank does not say how its gas comes into the room: {screen}")
    for kiln in (MARLPIT, ROOT / "examples" / "fennelbank-school.yaml"):
        whole = h.run("estimate", kiln).out
        need("up the stack" not in whole, f"{kiln.name} has no stack")
    screen = h.run("room", MARLPIT).out
    for words in ("31.3 kg/h", "12.2 by openings", "19.1 by flues", "0.62 m3/h", "0.25 m3/h"):
        need(words in screen.split("Hazards")[0], f"Marlpit's room does not say {words}")


# ---- what nobody knows ----------------------------------------------------------------------------

FAN = "room={volume: 60 m3, air_changes_per_hour: 1, exhaust_fan_flow: 800 m3/h}"
JUNIPER = ROOT / "examples" / "juniper-flat.yaml"
SALTHOLME = ROOT / "examples" / "room-saltholme-yard.yaml"
PUSHED_BACK = ("--temperature", "1100 degC", "--damper", "0%", "--gas-pressure", "9 kPa",
               *sets("openings.upper spyhole.open=0 %", "burners.left.gas_pressure=20 Pa"))
# A pressure of the room that turns the stack round; one lit burner that is pushed back; an end of the doubt
# where the stack turns.
UNKNOWN = {
    "reversed": ("room", JUNIPER, *sets(FAN)),
    "pushed back": ("room", SALTHOLME, *PUSHED_BACK),
    "turning": ("room", JUNIPER, *sets("room={volume: 83 m3, air_changes_per_hour: 1.7, exhaust_fan_flow: "
                                       "504 m3/h, exhaust_fan_pressure: 320 Pa}", "model.unmixedness=3 %")),
    "an end": ("room", JUNIPER, "--damper", "30%", "--gas-pressure", "4 kPa",
               *sets("room={volume: 300 m3, air_changes_per_hour: 30, hood_capture: 95 %}",
                     "site.room_pressure=-27 Pa")),
}
# Keys of carbon monoxide, of blood and of alarms in this air.
OF_CO = re.compile(r"room\.(co_(end|steady|leaves|m3|content).*|h2_.*|unburnt_.*|closure_co|verdict_by_co)"
                   r"|places\.\d+\.(co|h2|unburnt)_m3_s|course|doubt"
                   r"|limits\.\d+\.(mean_ppm|exceeded|crossed_s|air_reaches_it_s|ventilation_needed_m3_s)"
                   r"|alarms\.\d+\.(may|must)_sound_s|people\.(cohb_.*|activity|outside_promise)"
                   r"|people\.effects\.\d+\.reached_s")


def test_what_nobody_knows_has_no_figure(h):
    for name, words in UNKNOWN.items():
        of = answer(h, *words)
        need(of["room"]["verdict"] == "dangerous" and of["room"]["co_known"] is False, f"{name}: {of['room']}")
        seen = 0
        for key, value in leaves(of):
            if OF_CO.fullmatch(key):
                need(value is None, f"{name}: {key} is {value}")
                seen += 1
        need(seen > 150, f"{name}: only {seen} keys looked at")
        table = list(csv.reader(h.run(*words, "--format", "csv").out.splitlines()))
        need(not any(row[0].startswith(("room.co_end", "room.co_m3", "course.", "people.cohb_")) and row[1]
                     for row in table if len(row) > 1), f"{name}: a figure in CSV")
        for text in (h.run(*words).out, h.run(*words, "--format", "html").out, h.run(*words, "--working").out):
            need("not known" in text or "Nobody knows" in text, f"{name}: does not say so")
            for word in (r"\d ppm\b", r"COHb|haemoglobin", r"smoke\b.*packet", r"alarm may stay silent",
                         r"need not sound"):
                need(not re.search(word, text), f"{name}: {re.search(word, text)}")
        need("ppm" not in h.run(*words).err, f"{name}: a figure in the messages")


def test_a_room_sweep_has_no_figure_on_the_reversed_side(h):
    words = ("room", JUNIPER, *sets(FAN), "--vary", "room.make_up_area=0 cm2..600 cm2:20 cm2")
    rows = answer(h, *words)["rows"]
    reversed_, other = ([r for r in rows if r["co_known"] is known] for known in (False, True))
    need(reversed_ and other, "the sweep does not cross the turn of the stack")
    order = ("low", "raised", "dangerous")
    for row in reversed_:
        need(row["co_unknown_because"] and row["verdict"] == "dangerous", f"{row}")
        for key in ("co_end_ppm", "co_end_low_ppm", "co_end_high_ppm", "co_steady_ppm", "co_m3_s", "cohb_peak",
                    "limit", "limit_ppm"):
            need(row[key] is None, f"{key} is {row[key]} on the reversed side")
    worst = max(order.index(r["verdict"]) for r in other)
    need(all(order.index(r["verdict"]) >= worst for r in reversed_), "a lower verdict on the reversed side")
    lines = list(csv.DictReader(h.run(*words, "--format", "csv").out.splitlines()))
    for line, row in zip(lines, rows):
        need((line["co_end_ppm"] == "") == (row["co_end_ppm"] is None), "CSV and JSON differ")
    # The same at one point as in the sweep, whichever works its spread out.
    for i in (0, len(rows) - 1):
        area = f"room.make_up_area={1e4 * rows[i]['room_make_up_area_m2']} cm2"
        one = answer(h, "room", JUNIPER, *sets(FAN, area))["room"]
        need(one["co_known"] is rows[i]["co_known"], "one point and the sweep differ")


# ---- what is assumed ------------------------------------------------------------------------------

ROOMY = "room={volume: 83 m3, air_changes_per_hour: 3, make_up_area: 0.1 m2}"


def screen_of(done):
    """The first screen in one line."""
    return " ".join(done.out.split("Hazards, warnings")[0].split())


def test_the_hours_and_what_is_assumed_are_on_the_screen(h):
    asked = "Dwelling not said, so taken as no"
    for words, hours, shown in (((), 12, "for a 12 h firing day"),
                                (sets("room.dwelling=no"), 12, "for a 12 h firing day"),
                                (sets("room.dwelling=yes"), 24, "for a day and night (24 h)"),
                                (sets("room.duration=5 h"), 5, "for 5 h"),
                                (sets("room.dwelling=yes", "room.duration=5 h"), 5, "for 5 h")):
        screen = screen_of(h.run("room", JUNIPER, *sets(ROOMY), *words))
        need(shown in screen, f"{words}: {screen}")
        said = any("dwelling" in w for w in words)
        need((asked in screen) != said, f"{words}: asks about a dwelling, or does not: {screen}")
        need(not said or "yes" not in words[1] or hours == 24 or "the `duration` you gave is used" in screen,
             f"{words}: the hours of a dwelling are not used and that is not said")
        for part in ("an upper estimate for ", "no hood, nothing burnt off", "Measure carbon monoxide"):
            need(part in screen, f"{words}: '{part}' is not in {screen}")
        room = answer(h, "room", JUNIPER, *sets(ROOMY), *words)["room"]
        need(room["duration_s"] == 3600.0 * hours, f"{words}: {room['duration_s']}")
        need(room["dwelling_given"] is said and room["dwelling"] is (said and "yes" in words[1]), f"{words}")
    screen = screen_of(h.run("room", JUNIPER, *sets(ROOMY, "room.hood_capture=40 %", "room.burnt_share=30 %")))
    need("hood 40 %, nothing burnt off" in screen, screen)
    # What the screen says to write works.
    h.run("room", JUNIPER, *sets("room={volume: 83 m3, air_changes_per_hour: 3, dwelling: yes}"))


def test_first_screens_of_rooms_fit(h):
    for words in ((), sets("room.hood_capture=40 %", "room.burnt_share=30 %"), sets("room.dwelling=yes")):
        for kiln in EXAMPLES:
            done = h.run("room", kiln, *sets(ROOMY), *words)
            screen = done.out.split("Hazards, warnings")[0].rstrip().split("\n")
            need(len(screen) <= 24, f"{done}: {len(screen)} lines")
            need(max(map(len, screen)) <= 80, f"{done}: a line of more than 80")


def test_candling_is_no_hazard_unless_something_is(h):
    cold = ("--temperature", "180 degC", "--damper", "100%")
    for command in ("estimate", "room"):
        lean = h.run(command, SALTHOLME, *cold, "--gas-pressure", "0.3 kPa")
        need("hazard" not in lean.err and "HAZARD" not in lean.out, f"{lean}: candling is called a hazard")
        need("WARNING" in lean.out and " cold" in lean.out, f"{lean}: nothing of the cold flames")
        rich = h.run(command, SALTHOLME, *cold, "--gas-pressure", "20 kPa", "--damper", "10%")
        need("HAZARD" in rich.out and "180 degC" in rich.out, f"{rich}: rich and cold is no hazard")
    need("verdict raised" in screen_of(h.run("room", SALTHOLME, *cold, "--gas-pressure", "0.3 kPa")).lower(),
         "a cold kiln is never low")


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
