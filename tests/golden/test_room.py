"""What `room` says of states that it cannot know, of its own checks, and of what it assumes.

    python3 tests/golden/test_room.py --program PATH [TEST...]
"""

import json
import sys

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import EXAMPLES, ROOT, main, need, tests_of  # noqa: E402

MARLPIT = ROOT / "examples" / "room-marlpit-cellar.yaml"


def sets(*pairs):
    """--set for each."""
    return [word for pair in pairs for word in ("--set", pair)]


def answer(h, *args, code=0):
    """The JSON of a run."""
    return json.loads(h.run(*args, "--format", "json", code=code).out)


# ---- lighting out of range ------------------------------------------------------------------------


def test_lighting_out_of_range_does_not_decide_over_the_room(h):
    cold = sets("site.room_temperature=-24 degC")
    for kiln in (MARLPIT, ROOT / "examples" / "room-saltholme-yard.yaml"):
        for working in ((), ("--working",)):
            done = h.run("room", kiln, *cold, "--temperature", "1000 degC", *working)
            need("error" not in done.err, f"{done}: an error beside an answer")
        text = h.run("room", kiln, *cold, "--temperature", "1000 degC").out
        need("249 K" in text and "Never relight without a purge" in text,
             f"{kiln.name}: lighting does not say why it is not available")
        of = answer(h, "room", kiln, *cold, "--temperature", "1000 degC")
        need(of["solved"] is True and of["room"]["verdict"], "the room is solved all the same")
        need(of["lighting"]["solved"] is False and "249 K" in of["lighting"]["reason"],
             "the reason is in the JSON")
        need(set(of["lighting"]) == {"solved", "reason"}, "and no number of lighting is")


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
    for kiln in EXAMPLES:
        room = answer(h, "room", kiln, *sets(ROOM))
        pressure = f"site.room_pressure={room['room']['pressure_pa']:.12g} Pa"
        at = () if room["room"]["pressure_given"] or room["room"]["pressure_pa"] == 0 else sets(pressure)
        estimate = answer(h, "estimate", kiln, *at)
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


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
