"""What `room` says of states that it cannot know, of its own checks, and of what it assumes.

    python3 tests/golden/test_room.py --program PATH [TEST...]
"""

import json
import sys

sys.dont_write_bytecode = True  # the tree stays as it is

from harness import ROOT, main, need, tests_of  # noqa: E402

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


if __name__ == "__main__":
    main(__doc__, tests_of(sys.modules[__name__]))
