#include "kiln_schema.h"

/* The keys of a kiln description. To add one: a field in kiln/kiln.h with its default in
 * dw_kiln_init(), a row here, and a line in the manual. A row's index is its bit in dw_kiln_given;
 * an object holds at most DW_KEY_MAX rows. */

#define AT(type, field) .offset = offsetof(type, field)
#define RANGE(low_, high_) .low = (low_), .high = (high_)
/* A number of kiln.h as text. */
#define TEXT(number) TEXT_OF(number)
#define TEXT_OF(number) #number
#define USUAL(low_, high_) .usual_low = (low_), .usual_high = (high_)
#define NUMBER(dim_) .kind = DW_KEY_NUMBER, .dim = DW_DIM_##dim_
#define REQUIRED .need = DW_NEED_REQUIRED
#define DEFAULT .need = DW_NEED_DEFAULT
#define DERIVED .need = DW_NEED_DERIVED
#define OPTIONAL .need = DW_NEED_OPTIONAL
#define ONLY(kind_) (1u << (kind_))
#define DISCHARGE NUMBER(NUMBER), DEFAULT, RANGE("0.3", "1")

#define WIND_COEFFICIENT                                                                            \
    RANGE("-" TEXT(DW_WIND_COEFF_HIGH), TEXT(DW_WIND_COEFF_HIGH)),                                  \
        .needs = DW_NEEDS_OUTSIDE_TOP | DW_NEEDS_WIND

static const char *const burner_kinds[] = {"inspirating", "blown", NULL};
static const char *const jet_kinds[] = {"unknown",     "thin",  "short",   "plug",
                                        "drill point", "taper", "rounded", NULL};
static const char *const gauges[] = {"jet", "manifold", NULL};
static const char *const leak_kinds[] = {"unknown", "bricked-up and mudded", "bricked-up dry", "hinged", "lid",
                                         NULL};
static const char *const floor_kinds[] = {"unknown", "flush", "chequer", "under floor", NULL};
static const char *const opening_kinds[] = {"hole", "crack", "tall", "joint", NULL};
static const char *const damper_kinds[] = {"slide", "butterfly", "table", "shelf", NULL};
static const char *const sections[] = {"square", "round", NULL};
static const char *const walls[] = {"unknown",          "single brick",     "double brick",
                                    "insulating brick", "steel with fibre", "bare steel",   NULL};
static const char *const activities[] = {"rest", "light", "heavy", "unknown", NULL};
static const char *const sexes[] = {"male", "female", NULL};

static const dw_key file_keys[] = {
    {"damperwise", .kind = DW_KEY_VERSION, REQUIRED, RANGE("1", "1"),
     .help = "the version of these keys"},
    {"kiln", .kind = DW_KEY_OBJECT, REQUIRED, .child = DW_OBJECT_KILN, .help = "the kiln itself"},
    {"operating", .kind = DW_KEY_OBJECT, REQUIRED, AT(dw_kiln, operating),
     .child = DW_OBJECT_OPERATING, .help = "how the kiln is being fired"},
    {"room", .kind = DW_KEY_OBJECT, OPTIONAL, AT(dw_kiln, room), .child = DW_OBJECT_ROOM,
     .help = "the room around the kiln, how it is ventilated, and who is in it"},
};

static const dw_key kiln_keys[] = {
    {"name", .kind = DW_KEY_NAME, DEFAULT, AT(dw_kiln, name), .help = "what the kiln is called"},
    {"site", .kind = DW_KEY_OBJECT, OPTIONAL, AT(dw_kiln, site), .child = DW_OBJECT_SITE,
     .help = "where the kiln is, and the air there"},
    {"fuel", .kind = DW_KEY_FUEL, REQUIRED, AT(dw_kiln, fuel),
     .help = "the name of a fuel, or a map of gases with their shares by mole (the same as by "
             "volume)"},
    {"chamber", .kind = DW_KEY_OBJECT, REQUIRED, AT(dw_kiln, chamber), .child = DW_OBJECT_CHAMBER,
     .help = "the space that holds the ware"},
    {"burners", .kind = DW_KEY_LIST, REQUIRED, AT(dw_kiln, burner), .child = DW_OBJECT_BURNER,
     .count_offset = offsetof(dw_kiln, burner_count), .list_max = DW_BURNER_MAX,
     .help = "the burners; burners that are alike may share one entry with a count"},
    {"openings", .kind = DW_KEY_LIST, OPTIONAL, AT(dw_kiln, opening), .child = DW_OBJECT_OPENING,
     .count_offset = offsetof(dw_kiln, opening_count), .list_max = DW_OPENING_MAX,
     .help = "air ports, spyholes, door gaps: every way between chamber and room other than "
             "burners and flues"},
    {"flues", .kind = DW_KEY_LIST, REQUIRED, AT(dw_kiln, flue), .child = DW_OBJECT_FLUE,
     .count_offset = offsetof(dw_kiln, flue_count), .list_max = DW_FLUE_MAX,
     .help = "the ways out of the chamber, each with its damper"},
    {"stack", .kind = DW_KEY_OBJECT, OPTIONAL, AT(dw_kiln, stack), .child = DW_OBJECT_STACK,
     .help = "the chimney or hood duct that all flues share; without a stack the flues end in the "
             "room"},
    {"model", .kind = DW_KEY_OBJECT, OPTIONAL, AT(dw_kiln, settings), .child = DW_OBJECT_MODEL,
     .help = "settings of the calculation"},
};

static const dw_key site_keys[] = {
    {"elevation", NUMBER(LENGTH), DEFAULT, AT(dw_site, elevation_m),
     RANGE(TEXT(DW_ELEVATION_LOW_M) " m", TEXT(DW_ELEVATION_HIGH_M) " m"),
     .needs = DW_NEEDS_NO_PRESSURE, .help = "height above sea level"},
    {"pressure", NUMBER(PRESSURE_ABS), DERIVED, AT(dw_site, pressure_pa_abs),
     RANGE("45 kPa", "115 kPa"),
     .help = "absolute air pressure at the kiln; worked out from the elevation when absent"},
    {"air_temperature", NUMBER(TEMPERATURE), DEFAULT, AT(dw_site, air_temperature_k),
     RANGE("-40 degC", "60 degC"),
     .help =
         "air temperature, indoors and outdoors unless those are given; the humidity holds at it"},
    {"relative_humidity", NUMBER(SHARE), DEFAULT, AT(dw_site, relative_humidity),
     RANGE("0 %", "100 %"), .help = "relative humidity at air_temperature"},
    {"outside_temperature", NUMBER(TEMPERATURE), DERIVED, AT(dw_site, outside_temperature_k),
     RANGE("-50 degC", "60 degC"), .needs = DW_NEEDS_OUTSIDE_AIR,
     .help = "temperature of the air around the stack; air_temperature when absent"},
    {"room_temperature", NUMBER(TEMPERATURE), DERIVED, AT(dw_site, room_temperature_k),
     RANGE("-40 degC", "70 degC"),
     .help = "temperature of the air around the kiln; air_temperature when absent"},
    {"room_pressure", NUMBER(PRESSURE_GAUGE), DEFAULT, AT(dw_site, room_pressure_pa),
     RANGE("-200 Pa", "200 Pa"), USUAL("-20 Pa", "20 Pa"), .needs = DW_NEEDS_OUTSIDE,
     .help = "pressure of the room minus that outside, at the lowest burner; negative when an "
             "exhaust fan runs"},
    {"wind_speed", NUMBER(SPEED), OPTIONAL, AT(dw_site, wind_speed_m_s), RANGE("0 m/s", "40 m/s"),
     .needs = DW_NEEDS_OUTSIDE_TOP, .help = "speed of the wind over the roof; it acts on the stack alone"},
};

static const dw_key chamber_keys[] = {
    {"width", NUMBER(LENGTH), REQUIRED, AT(dw_chamber, width_m), RANGE("0.1 m", "10 m"),
     .help = "inside width"},
    {"depth", NUMBER(LENGTH), REQUIRED, AT(dw_chamber, depth_m), RANGE("0.1 m", "20 m"),
     .help = "inside depth"},
    {"height", NUMBER(LENGTH), REQUIRED, AT(dw_chamber, height_m), RANGE("0.1 m", "10 m"),
     .help = "inside height from floor to roof; for an arch, the mean height"},
    {"packed", NUMBER(SHARE), DEFAULT, AT(dw_chamber, packed_frac), RANGE("0 %", "95 %"),
     .help = "share of the volume that ware and shelves fill"},
    {"setting_loss", NUMBER(NUMBER), OPTIONAL, AT(dw_chamber, setting_loss), RANGE("0", "500"),
     .help = "loss of the setting, on the speed the flue gas has in the empty chamber; some 20 half packed"},
    {"leak_area", NUMBER(AREA), DERIVED, AT(dw_chamber, leak_area_m2), RANGE("0 cm2", "1 m2"),
     .help = "area of the cracks in door and brickwork; 10 cm2 for each m2 of inside surface when "
             "absent"},
    {"leak_kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_chamber, leak_kind), .words = leak_kinds,
     .needs = DW_NEEDS_NO_LEAK_AREA,
     .help = "how the door closes, see README; gives leak_area where that is absent"},
    {"leak_discharge_coefficient", DISCHARGE, AT(dw_chamber, leak_discharge_coeff),
     USUAL("0.6", "0.7"), .needs = DW_NEEDS_LEAK, .help = "discharge coefficient of the cracks"},
};

#define INSPIRATING .applies = ONLY(DW_BURNER_INSPIRATING)
#define BLOWN_ONLY .applies = ONLY(DW_BURNER_BLOWN)
#define AIR_SUPPLY BLOWN_ONLY, .choice = "air supply"

static const dw_key burner_keys[] = {
    {"name", .kind = DW_KEY_NAME, REQUIRED, AT(dw_burner, name),
     .help = "the name of the burner, used in paths"},
    {"count", .kind = DW_KEY_COUNT, DEFAULT, AT(dw_burner, count), RANGE("1", "100"),
     .help = "how many burners are like this one"},
    {"kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_burner, kind), .words = burner_kinds,
     .help = "inspirating: the gas jet draws the air in; blown: the air comes under pressure from "
             "a fan"},
    {"lit", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_burner, lit),
     .help = "whether the burner is burning"},
    {"plugged", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_burner, plugged), .needs = DW_NEEDS_UNLIT,
     .help = "whether a burner that is off is stopped up, so that no air comes in through it"},
    {"height", NUMBER(LENGTH), REQUIRED, AT(dw_burner, height_m), RANGE("0 m", "10 m"),
     .help = "middle of the port, above the chamber floor"},
    {"gas_pressure", NUMBER(PRESSURE_GAUGE), DERIVED, AT(dw_burner, gas_pressure_pa),
     RANGE("0 kPa", "400 kPa"), .needs = DW_NEEDS_LIT,
     .help = "gas pressure at this jet; operating.gas_pressure when absent"},
    {"air_pressure", NUMBER(PRESSURE_GAUGE), DERIVED, AT(dw_burner, air_pressure_pa),
     RANGE("0 kPa", "1000 kPa"), .needs = DW_NEEDS_LIT | DW_NEEDS_AIR_USER,
     .help = "air pressure at this burner; operating.air_pressure when absent"},
    {"jet.diameter", NUMBER(LENGTH), REQUIRED, AT(dw_burner, jet_diameter_m),
     RANGE("0.1 mm", "20 mm"), .choice = "jet", .needs = DW_NEEDS_JET,
     .help = "bore of the gas jet"},
    {"jet.drill", .kind = DW_KEY_DRILL, OPTIONAL, AT(dw_burner, jet_diameter_m), .choice = "jet",
     .needs = DW_NEEDS_JET,
     .help = "drill size of the gas jet, a number or a letter, in place of its diameter"},
    {"jet.kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_burner, jet_kind), .words = jet_kinds,
     .needs = DW_NEEDS_LIT | DW_NEEDS_JET_KIND,
     .help = "what the gas side of the jet looks like, see README; gives the coefficients you leave out"},
    {"jet.discharge_coefficient", DISCHARGE, AT(dw_burner, jet_discharge_coeff),
     USUAL("0.6", "0.98"), .needs = DW_NEEDS_LIT,
     .help = "actual flow of the jet / flow of an ideal nozzle of the same bore"},
    {"jet.velocity_coefficient", NUMBER(NUMBER), DEFAULT, AT(dw_burner, jet_velocity_coeff),
     RANGE("0.5", "1"), INSPIRATING, .needs = DW_NEEDS_LIT | DW_NEEDS_SHUTTER,
     .help = "actual speed of the jet / ideal speed"},
    {"throat_diameter", NUMBER(LENGTH), REQUIRED, AT(dw_burner, throat_diameter_m),
     RANGE("3 mm", "300 mm"), .required_for = ONLY(DW_BURNER_INSPIRATING), INSPIRATING,
     .needs = DW_NEEDS_UNPLUGGED, .help = "narrowest bore of the mixing tube"},
    {"port_diameter", NUMBER(LENGTH), DERIVED, AT(dw_burner, port_diameter_m),
     RANGE("3 mm", "600 mm"),
     .help = "bore of the burner's mouth; the throat's diameter when absent"},
    {"shutter", NUMBER(SHARE), DEFAULT, AT(dw_burner, shutter_open_frac), RANGE("0 %", "100 %"),
     INSPIRATING, .needs = DW_NEEDS_UNPLUGGED, .help = "how far the primary-air shutter is open"},
    {"shutter_area", NUMBER(AREA), DERIVED, AT(dw_burner, shutter_area_m2),
     RANGE("0.1 cm2", "1000 cm2"), .choice = "shutter", INSPIRATING,
     .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER,
     .help = "area of the shutter when fully open; the area that gives inlet_loss when absent"},
    {"shutter_discharge_coefficient", DISCHARGE, AT(dw_burner, shutter_discharge_coeff),
     USUAL("0.6", "0.7"), INSPIRATING,
     .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER | DW_NEEDS_SHUTTER_AREA,
     .help = "discharge coefficient of the shutter"},
    {"inlet_loss", NUMBER(NUMBER), DEFAULT, AT(dw_burner, inlet_loss), RANGE("0", "50"),
     .choice = "shutter", INSPIRATING, .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER,
     .help = "loss of the air inlet with the shutter fully open, on the speed in the throat"},
    {"throat_friction", NUMBER(NUMBER), DEFAULT, AT(dw_burner, throat_friction), RANGE("0", "2"),
     INSPIRATING, .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER,
     .help = "friction loss of the mixing tube, on the speed in the throat"},
    {"diffuser_recovery", NUMBER(NUMBER), DEFAULT, AT(dw_burner, diffuser_recovery),
     RANGE("0", "0.95"), INSPIRATING, .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER,
     .help = "share of the speed head in the throat that the flare recovers"},
    {"port_loss", NUMBER(NUMBER), DEFAULT, AT(dw_burner, port_loss), RANGE("0", "20"), INSPIRATING,
     .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_SHUTTER,
     .help = "loss of the port including the exit speed, on the speed in the port"},
    {"port_temperature_ratio", NUMBER(NUMBER), DEFAULT, AT(dw_burner, port_temperature_ratio),
     RANGE("0.5", "8"), USUAL("1", "3"), INSPIRATING, .needs = DW_NEEDS_LIT | DW_NEEDS_SHUTTER,
     .help = "absolute temperature of the mixture at a hot port / that of the room"},
    {"air_jet.diameter", NUMBER(LENGTH), DEFAULT, AT(dw_burner, air_jet_diameter_m),
     RANGE("0 mm", "20 mm"), INSPIRATING, .needs = DW_NEEDS_LIT | DW_NEEDS_AIR_PRESSURE,
     .help = "bore of a compressed-air jet in the mixer; 0 mm for none"},
    {"air_jet.discharge_coefficient", DISCHARGE, AT(dw_burner, air_jet_discharge_coeff),
     USUAL("0.6", "0.98"), INSPIRATING,
     .needs = DW_NEEDS_LIT | DW_NEEDS_AIR_JET | DW_NEEDS_AIR_PRESSURE,
     .help = "discharge coefficient of the compressed-air jet"},
    {"air_restriction.area", NUMBER(AREA), REQUIRED, AT(dw_burner, air_restriction_area_m2),
     RANGE("0.1 cm2", "1000 cm2"), AIR_SUPPLY, .needs = DW_NEEDS_UNPLUGGED,
     .help = "area of the known restriction in the air line"},
    {"air_restriction.diameter", .kind = DW_KEY_DIAMETER, .dim = DW_DIM_LENGTH, OPTIONAL,
     AT(dw_burner, air_restriction_area_m2), RANGE("3 mm", "350 mm"), AIR_SUPPLY,
     .needs = DW_NEEDS_UNPLUGGED, .help = "bore of the restriction, in place of its area"},
    {"air_restriction.discharge_coefficient", DISCHARGE, AT(dw_burner, air_restriction_coeff),
     USUAL("0.6", "0.98"), BLOWN_ONLY, .needs = DW_NEEDS_UNPLUGGED | DW_NEEDS_RESTRICTION,
     .help = "discharge coefficient of the restriction"},
    {"air_flow", NUMBER(VOLUME_FLOW), OPTIONAL, AT(dw_burner, air_flow_m3_s),
     RANGE("0 m3/h", "10000 m3/h"), AIR_SUPPLY, .needs = DW_NEEDS_LIT,
     .help = "air flow of each burner at room conditions, in place of a restriction"},
};

#define MIDDLE (ONLY(DW_OPENING_HOLE) | ONLY(DW_OPENING_CRACK))
#define BY_AREA (MIDDLE | ONLY(DW_OPENING_TALL))
#define JOINT ONLY(DW_OPENING_JOINT)

static const dw_key opening_keys[] = {
    {"name", .kind = DW_KEY_NAME, REQUIRED, AT(dw_opening, name),
     .help = "the name of the opening, used in paths"},
    {"kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_opening, kind), .words = opening_kinds,
     .help = "hole; crack (a narrow gap); tall (it extends over a height); or joint (a gap of known "
             "depth)"},
    {"count", .kind = DW_KEY_COUNT, DEFAULT, AT(dw_opening, count), RANGE("1", "1000"),
     .needs = DW_NEEDS_OPEN, .help = "how many openings are like this one"},
    {"area", NUMBER(AREA), REQUIRED, AT(dw_opening, area_m2), RANGE("0.01 cm2", "4 m2"),
     .choice = "area", .applies = BY_AREA, .required_for = BY_AREA, .needs = DW_NEEDS_OPEN,
     .help = "area of each when fully open"},
    {"diameter", .kind = DW_KEY_DIAMETER, .dim = DW_DIM_LENGTH, OPTIONAL, AT(dw_opening, area_m2),
     RANGE("1 mm", "2 m"), .choice = "area", .applies = BY_AREA, .needs = DW_NEEDS_OPEN,
     .help = "diameter of a round opening, in place of its area"},
    {"open", NUMBER(SHARE), DEFAULT, AT(dw_opening, open_frac), RANGE("0 %", "100 %"),
     .help = "how far the opening is open; 0 % when the bung is in"},
    {"height", NUMBER(LENGTH), REQUIRED, AT(dw_opening, height_m), RANGE("0 m", "10 m"),
     .applies = MIDDLE | JOINT, .required_for = MIDDLE, .needs = DW_NEEDS_OPEN,
     .help = "middle of the opening, above the chamber floor"},
    {"from", NUMBER(LENGTH), REQUIRED, AT(dw_opening, from_m), RANGE("0 m", "10 m"),
     .applies = ONLY(DW_OPENING_TALL) | JOINT, .required_for = ONLY(DW_OPENING_TALL),
     .needs = DW_NEEDS_OPEN, .help = "lower end, above the chamber floor"},
    {"to", NUMBER(LENGTH), REQUIRED, AT(dw_opening, to_m), RANGE("0 m", "10 m"),
     .applies = ONLY(DW_OPENING_TALL) | JOINT, .required_for = ONLY(DW_OPENING_TALL),
     .needs = DW_NEEDS_OPEN, .help = "upper end, above the chamber floor"},
    {"width", NUMBER(LENGTH), REQUIRED, AT(dw_opening, width_m), RANGE("0.05 mm", "50 mm"),
     USUAL("0.2 mm", "10 mm"), .applies = JOINT, .needs = DW_NEEDS_OPEN,
     .help = "width of the gap of a joint; give height if it is level, from and to if it is upright"},
    {"depth", NUMBER(LENGTH), REQUIRED, AT(dw_opening, depth_m), RANGE("1 mm", "2 m"),
     .applies = JOINT | ONLY(DW_OPENING_HOLE), .required_for = JOINT,
     .needs = DW_NEEDS_OPEN | DW_NEEDS_NO_DISCHARGE,
     .help = "depth of a joint or a hole, through the wall; gives a hole's discharge_coefficient"},
    {"length", NUMBER(LENGTH), DERIVED, AT(dw_opening, length_m), RANGE("1 cm", "50 m"),
     .applies = JOINT, .needs = DW_NEEDS_OPEN,
     .help = "length of a joint along the wall; from its lower to its upper end when absent"},
    {"discharge_coefficient", DISCHARGE, AT(dw_opening, discharge_coeff), USUAL("0.6", "0.7"),
     .applies = BY_AREA, .needs = DW_NEEDS_OPEN, .help = "discharge coefficient of the opening"},
    {"exponent", NUMBER(NUMBER), DEFAULT, AT(dw_opening, exponent),
     RANGE(TEXT(DW_CRACK_EXPONENT_LOW), TEXT(DW_CRACK_EXPONENT_HIGH)),
     .applies = ONLY(DW_OPENING_CRACK), .needs = DW_NEEDS_OPEN,
     .help = "exponent of the crack's flow law"},
    {"reference_pressure", NUMBER(PRESSURE_GAUGE), DEFAULT, AT(dw_opening, reference_pressure_pa),
     RANGE("0.1 Pa", "100 Pa"), .applies = ONLY(DW_OPENING_CRACK), .needs = DW_NEEDS_OPEN,
     .help = "pressure difference at which the crack lets as much through as a hole of its area"},
    {"burnt_share", NUMBER(SHARE), OPTIONAL, AT(dw_opening, burnt_frac), RANGE("0 %", "100 %"),
     USUAL("0 %", "90 %"), .applies = ONLY(DW_OPENING_HOLE) | ONLY(DW_OPENING_TALL),
     .needs = DW_NEEDS_OPEN | DW_NEEDS_ROOM,
     .help = "share of CO that burns in a flame at this opening, in place of room.burnt_share"},
};

static const dw_key flue_keys[] = {
    {"name", .kind = DW_KEY_NAME, REQUIRED, AT(dw_flue, name),
     .help = "the name of the flue, used in paths"},
    {"count", .kind = DW_KEY_COUNT, DEFAULT, AT(dw_flue, count), RANGE("1", "100"),
     .help = "how many flues are like this one, each with such a damper"},
    {"area", NUMBER(AREA), REQUIRED, AT(dw_flue, area_m2), RANGE("1 cm2", "4 m2"), .choice = "area",
     .help = "inside area of each"},
    {"diameter", .kind = DW_KEY_DIAMETER, .dim = DW_DIM_LENGTH, OPTIONAL, AT(dw_flue, area_m2),
     RANGE("12 mm", "2.2 m"), .choice = "area",
     .help = "diameter of a round flue, in place of its area"},
    {"height", NUMBER(LENGTH), REQUIRED, AT(dw_flue, height_m), RANGE("0 m", "10 m"),
     .help = "middle of the flue's mouth, above the chamber floor"},
    {"entry_loss", NUMBER(NUMBER), DEFAULT, AT(dw_flue, entry_loss), RANGE("0", "10"),
     .help = "loss at the mouth, on the speed in the flue"},
    {"floor_kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_flue, floor_kind), .words = floor_kinds,
     .needs = DW_NEEDS_NO_FLOOR_LOSS,
     .help = "how the gas gets from the setting into the flue, see README; gives floor_loss"},
    {"floor_loss", NUMBER(NUMBER), OPTIONAL, AT(dw_flue, floor_loss), RANGE("0", "20"),
     .help = "loss of floor, chequer or bag wall, on the speed in the flue, besides that at the mouth"},
    {"damper_downstream_area", .kind = DW_KEY_DOWNSTREAM, .dim = DW_DIM_AREA, DERIVED,
     AT(dw_flue, downstream_area_m2), RANGE("1 cm2", "10 m2"), .needs = DW_NEEDS_BEHIND,
     .help = "area just past the damper, or plenum for a wide space; worked out from flues and "
             "stack when absent"},
    {"damper", .kind = DW_KEY_OBJECT, OPTIONAL, AT(dw_flue, damper), .child = DW_OBJECT_DAMPER,
     .help = "what closes the flue"},
};

static const dw_key damper_keys[] = {
    {"kind", .kind = DW_KEY_WORD, DEFAULT, AT(dw_damper, kind), .words = damper_kinds,
     .help = "slide: a plate pushed in; butterfly: one that turns; shelf: one pushed over the mouth; "
             "table: rows"},
    {"open", NUMBER(SHARE), DEFAULT, AT(dw_damper, open_frac), RANGE("0 %", "100 %"),
     .choice = "open", .help = "open share of the flue's area"},
    {"angle", .kind = DW_KEY_ANGLE, .dim = DW_DIM_ANGLE, OPTIONAL, AT(dw_damper, open_frac),
     RANGE("0 deg", "90 deg"), .choice = "open", .applies = ONLY(DW_DAMPER_BUTTERFLY),
     .help = "angle of a butterfly from fully open, in place of its open share 1 - sin(angle)"},
    {"leak", NUMBER(SHARE), DEFAULT, AT(dw_damper, leak_frac), RANGE("0.1 %", "50 %"),
     USUAL("0.2 %", "5 %"),
     .help = "open share that is left when the damper is shut; every real plate leaks"},
    {"scale", NUMBER(NUMBER), DEFAULT, AT(dw_damper, scale), RANGE("0.1", "10"), USUAL("0.5", "2"),
     .help = "factor on the loss, for fitting to measurements"},
    {"thickness", NUMBER(LENGTH), OPTIONAL, AT(dw_damper, thickness_m), RANGE("1 mm", "300 mm"),
     .applies = ONLY(DW_DAMPER_SHELF), .needs = DW_NEEDS_PLATE_SIZE,
     .help = "thickness of the shelf or brick; used together with mouth_width"},
    {"mouth_width", NUMBER(LENGTH), OPTIONAL, AT(dw_damper, mouth_width_m), RANGE("1 cm", "2 m"),
     .applies = ONLY(DW_DAMPER_SHELF), .needs = DW_NEEDS_PLATE_SIZE,
     .help = "inside width of the mouth, the way the shelf is pushed; used together with thickness"},
    {"rows", .kind = DW_KEY_ROWS, REQUIRED, .applies = ONLY(DW_DAMPER_TABLE),
     .required_for = ONLY(DW_DAMPER_TABLE),
     .help = "for table: pairs [open share, loss on the speed in the full flue], in order of "
             "opening"},
};

static const dw_key stack_keys[] = {
    {"height", NUMBER(LENGTH), REQUIRED, AT(dw_stack, height_m), RANGE("0.2 m", "60 m"),
     .help = "height of the top above the base"},
    {"area", NUMBER(AREA), REQUIRED, AT(dw_stack, area_m2), RANGE("10 cm2", "10 m2"),
     .choice = "area", .help = "inside area"},
    {"diameter", .kind = DW_KEY_DIAMETER, .dim = DW_DIM_LENGTH, OPTIONAL, AT(dw_stack, area_m2),
     RANGE("36 mm", "3.5 m"), .choice = "area",
     .help = "inside diameter, in place of the area; makes the stack round"},
    {"section", .kind = DW_KEY_FLAG_WORD, DEFAULT, AT(dw_stack, round), .words = sections,
     .help = "shape of the inside"},
    {"base_height", NUMBER(LENGTH), DERIVED, AT(dw_stack, base_height_m),
     RANGE(TEXT(DW_STACK_BASE_LOW_M) " m", "10 m"),
     .help = "height of the base above the chamber floor; that of the lowest flue when absent"},
    {"roughness", NUMBER(LENGTH), DEFAULT, AT(dw_stack, roughness_m), RANGE("0 mm", "20 mm"),
     USUAL("0.05 mm", "5 mm"), .choice = "roughness", .help = "roughness of the inside"},
    {"lining", .kind = DW_KEY_LINING, OPTIONAL, AT(dw_stack, roughness_m), .choice = "roughness",
     .help = "what the inside is made of, in place of its roughness"},
    {"bends", NUMBER(NUMBER), DEFAULT, AT(dw_stack, bend_count), RANGE("0", "20"),
     .help = "number of turns of 90 degrees; count a turn of 45 degrees as 0.5"},
    {"bend_loss", NUMBER(NUMBER), DEFAULT, AT(dw_stack, bend_loss), RANGE("0", "10"),
     .needs = DW_NEEDS_BENDS, .help = "loss of each bend, on the speed in the stack"},
    {"cap_loss", NUMBER(NUMBER), DEFAULT, AT(dw_stack, cap_loss), RANGE("0", "20"), .choice = "cap",
     .needs = DW_NEEDS_NO_HOOD, .help = "loss of the cap, on the speed in the stack"},
    {"cap", .kind = DW_KEY_CAP, OPTIONAL, AT(dw_stack, cap_loss), .choice = "cap",
     .needs = DW_NEEDS_NO_HOOD, .help = "what is on top of the stack, in place of cap_loss"},
    {"exit_loss", NUMBER(NUMBER), DEFAULT, AT(dw_stack, exit_loss), RANGE("0", "5"),
     .help = "share of the speed head that is lost at the top"},
    {"relief_opening", NUMBER(AREA), DEFAULT, AT(dw_stack, relief_area_m2), RANGE("0 cm2", "1 m2"),
     .help = "area of an opening at the base that lets room air in to slow the draft; 0 cm2 for "
             "none"},
    {"relief_discharge_coefficient", DISCHARGE, AT(dw_stack, relief_discharge_coeff),
     USUAL("0.6", "0.7"), .needs = DW_NEEDS_RELIEF,
     .help = "discharge coefficient of the relief opening"},
    {"wall", .kind = DW_KEY_WORD, DEFAULT, AT(dw_stack, wall), .words = walls, .choice = "heat loss",
     .help = "what the wall of the stack is; gives its heat loss with the size of the stack"},
    {"heat_loss_ntu", NUMBER(NUMBER), DEFAULT, AT(dw_stack, heat_loss_ntu), RANGE("0", "5"),
     USUAL("0.1", "1"), .choice = "heat loss", .needs = DW_NEEDS_NO_WALL,
     .help = "heat loss of the stack as a number of transfer units"},
    {"heat_loss_ua", NUMBER(CONDUCTANCE), OPTIONAL, AT(dw_stack, heat_loss_ua_w_k),
     RANGE("0 W/K", "5000 W/K"), .choice = "heat loss", .needs = DW_NEEDS_NO_WALL,
     .help = "heat loss of the stack per kelvin, in place of the transfer units"},
    {"hood_gap_height", NUMBER(LENGTH), OPTIONAL, AT(dw_stack, hood_gap_height_m),
     RANGE("0.01 m", "60 m"), .help = "height of an open gap above the base, as under a hood"},
    {"wind_coefficient", NUMBER(NUMBER), OPTIONAL, AT(dw_stack, wind_coeff), WIND_COEFFICIENT,
     .help = "share of the wind's speed head on the top of the stack, negative: suction; -0.3 when absent"},
};

static const dw_key model_keys[] = {
    {"unmixedness", NUMBER(RATIO), DEFAULT, AT(dw_settings, unmixedness),
     RANGE("0", TEXT(DW_UNMIXEDNESS_HIGH)), USUAL("0.02", "0.2"),
     .help = "spread of the mixture of gas and air in the chamber / its mean"},
    {"quench_temperature", NUMBER(TEMPERATURE), DEFAULT, AT(dw_settings, quench_temperature_k),
     RANGE(TEXT(DW_QUENCH_LOW_K) " K", TEXT(DW_QUENCH_HIGH_K) " K"), USUAL("1000 K", "1300 K"),
     .help = "below this temperature the gas keeps the composition it has there"},
    {"quench_temperature_rich", NUMBER(TEMPERATURE), DEFAULT, AT(dw_settings, quench_temperature_rich_k),
     RANGE(TEXT(DW_QUENCH_LOW_K) " K", TEXT(DW_QUENCH_HIGH_K) " K"), USUAL("1000 K", "1400 K"),
     .help = "the same for rich gas; quench_temperature, if that is given, when this is absent"},
    {"gas_minus_reading", NUMBER(TEMPERATURE_DIFF), DEFAULT, AT(dw_settings, gas_minus_reading_dk),
     RANGE("-100 K", "300 K"), USUAL("0 K", "100 K"),
     .help = "how much hotter the gas is than the thermocouple reads"},
    {"graphite", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_settings, graphite),
     .help = "whether solid carbon may form"},
};

static const dw_key operating_keys[] = {
    {"gas_pressure", NUMBER(PRESSURE_GAUGE), REQUIRED, AT(dw_operating, gas_pressure_pa),
     RANGE("0 kPa", "400 kPa"), .needs = DW_NEEDS_SHARED_GAS,
     .help = "gas pressure at the jets, or where gauge says, while the burners are lit"},
    {"gauge", .kind = DW_KEY_WORD, DEFAULT, AT(dw_operating, gauge), .words = gauges,
     .needs = DW_NEEDS_SHARED_GAS,
     .help = "where gas_pressure is read: jet, or manifold, with pressure lost between it and the jets"},
    {"gauge_end", NUMBER(PRESSURE_GAUGE), OPTIONAL, AT(dw_operating, gauge_end_pa),
     RANGE("0.1 kPa", "4000 kPa"), .needs = DW_NEEDS_SHARED_GAS,
     .help = "end of the scale of the gauge that gas_pressure is read on, for the check of its error"},
    {"supply.static", NUMBER(PRESSURE_GAUGE), OPTIONAL, AT(dw_operating, supply_static_pa),
     RANGE("0.01 kPa", "400 kPa"), .needs = DW_NEEDS_SHARED_GAS | DW_NEEDS_MANIFOLD,
     .help = "gas pressure with every burner shut"},
    {"supply.running", NUMBER(PRESSURE_GAUGE), OPTIONAL, AT(dw_operating, supply_running_pa),
     RANGE("0.01 kPa", "400 kPa"), .needs = DW_NEEDS_SHARED_GAS | DW_NEEDS_MANIFOLD,
     .help = "gas pressure at the jets with every burner lit, the supply as it is for the static one"},
    {"gas_temperature", NUMBER(TEMPERATURE), DERIVED, AT(dw_operating, gas_temperature_k),
     RANGE("-40 degC", "100 degC"),
     .help = "temperature of the fuel gas at the jets; that of the room when absent"},
    {"air_pressure", NUMBER(PRESSURE_GAUGE), DEFAULT, AT(dw_operating, air_pressure_pa),
     RANGE("0 kPa", "1000 kPa"), .needs = DW_NEEDS_SHARED_AIR,
     .help = "air pressure at blown burners and air jets"},
    {"chamber_temperature", NUMBER(TEMPERATURE), REQUIRED, AT(dw_operating, chamber_temperature_k),
     RANGE("0 degC", "1500 degC"), .help = "what the thermocouple in the chamber reads"},
};

#define VENTILATION .choice = "ventilation"

static const dw_key room_keys[] = {
    {"volume", NUMBER(VOLUME), REQUIRED, AT(dw_room, volume_m3), RANGE("3 m3", "100000 m3"),
     .help = "volume of air in the room: length x width x height"},
    {"ventilation_flow", NUMBER(VOLUME_FLOW), REQUIRED, AT(dw_room, ventilation_m3_s),
     RANGE("0 m3/h", "1000000 m3/h"), VENTILATION,
     .help = "natural ventilation on a still day, with doors and windows as they are while firing"},
    {"air_changes_per_hour", NUMBER(NUMBER), OPTIONAL, AT(dw_room, air_changes_per_hour),
     RANGE("0", "200"), VENTILATION, USUAL("0.1", "10"),
     .help = "natural ventilation in room volumes per hour, in place of the flow"},
    {"exhaust_fan_flow", NUMBER(VOLUME_FLOW), DEFAULT, AT(dw_room, exhaust_fan_m3_s),
     RANGE("0 m3/h", "200000 m3/h"),
     .help = "flow of a fan that blows air from the room or the hood outside, as it runs; 0 m3/h "
             "for none or off"},
    {"exhaust_fan_pressure", NUMBER(PRESSURE_GAUGE), DEFAULT, AT(dw_room, exhaust_fan_pressure_pa),
     RANGE("5 Pa", "2000 Pa"), .needs = DW_NEEDS_FAN,
     .help = "pressure difference at which that fan no longer moves any air"},
    {"make_up_area", NUMBER(AREA), DEFAULT, AT(dw_room, make_up_area_m2), RANGE("0 cm2", "20 m2"),
     .help = "area of grilles and open doors that let outside air in; 0 cm2 for none"},
    {"leak_area", NUMBER(AREA), DERIVED, AT(dw_room, leak_area_m2), RANGE("0 cm2", "20 m2"),
     .help = "area of the cracks of the room; what gives the natural ventilation at 4 Pa when "
             "absent"},
    {"hood_capture", NUMBER(SHARE), DEFAULT, AT(dw_room, hood_capture_frac), RANGE("0 %", "100 %"),
     USUAL("0 %", "95 %"),
     .help = "share of all that leaves the kiln that a hood takes outside; measure it, do not "
             "hope for it"},
    {"burnt_share", NUMBER(SHARE), OPTIONAL, AT(dw_room, burnt_frac), RANGE("0 %", "100 %"),
     USUAL("0 %", "90 %"),
     .help = "share of CO that burns in flames at holes and flue mouths, for the likely figure alone"},
    {"outside_co_ppm", NUMBER(NUMBER), DEFAULT, AT(dw_room, outside_co_ppm), RANGE("0", "100"),
     .help = "carbon monoxide in the air outside, in parts per million"},
    {"duration", NUMBER(TIME), DERIVED, AT(dw_room, duration_s), RANGE("1 min", "30 d"),
     .help = "how long the kiln runs like this with somebody there; if absent 12 h, with a dwelling 24 h"},
    {"dwelling", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_room, dwelling),
     .help = "whether somebody lives or sleeps above or beside the kiln"},
    {"activity", .kind = DW_KEY_WORD, DEFAULT, AT(dw_room, activity), .words = activities,
     .help = "what that person does; unknown assumes the worst case"},
    {"smoker", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_room, smoker),
     .help = "whether that person smokes"},
    {"person.height", NUMBER(LENGTH), OPTIONAL, AT(dw_room, person_height_m), RANGE("1 m", "2.2 m"),
     .needs = DW_NEEDS_PERSON, .help = "height of that person; used together with the mass"},
    {"person.mass", NUMBER(MASS), OPTIONAL, AT(dw_room, person_mass_kg), RANGE("30 kg", "200 kg"),
     .needs = DW_NEEDS_PERSON, .help = "body mass of that person; used together with the height"},
    {"person.sex", .kind = DW_KEY_FLAG_WORD, DEFAULT, AT(dw_room, female), .words = sexes,
     .needs = DW_NEEDS_PERSON, .help = "sex of that person, for the volume of blood"},
    {"other_flued_appliance", .kind = DW_KEY_SWITCH, DEFAULT, AT(dw_room, other_flued_appliance),
     .help = "whether another appliance with a flue is in the room or next to it"},
    {"corner_volume", NUMBER(VOLUME), DEFAULT, AT(dw_room, corner_volume_m3),
     RANGE("0.01 m3", "1000 m3"),
     .help = "volume of a pit, a corner or a space under the roof where unburnt gas would collect"},
    {"wind_coefficient", NUMBER(NUMBER), OPTIONAL, AT(dw_room, wind_coeff), WIND_COEFFICIENT,
     .help = "share of the wind's speed head on the room, positive: a door open to the wind; 0 when absent"},
    {"purge_fan_flow", NUMBER(VOLUME_FLOW), OPTIONAL, AT(dw_room, purge_fan_m3_s),
     RANGE("1 m3/h", "10000 m3/h"),
     .help = "flow of a fan that blows air through the kiln before lighting"},
};

#define TABLE(keys_, type_, kind_row_, given_)                                                     \
    {                                                                                              \
        .key = (keys_), .count = (int)(sizeof(keys_) / sizeof((keys_)[0])), .size = sizeof(type_), \
        .kind_row = (kind_row_), .given = (given_)                                                 \
    }
#define GIVEN(field_) offsetof(dw_kiln_given, field_)
#define FITS(keys_)                                                                                \
    _Static_assert(sizeof(keys_) / sizeof((keys_)[0]) <= DW_KEY_MAX, "one bit for each key")

FITS(kiln_keys); FITS(burner_keys); FITS(opening_keys); FITS(stack_keys); FITS(room_keys);

const dw_keys dw_kiln_key_tables[DW_OBJECT_COUNT] = {
    [DW_OBJECT_FILE] = TABLE(file_keys, dw_kiln, DW_NO_ROW, DW_NO_GIVEN),
    [DW_OBJECT_KILN] = TABLE(kiln_keys, dw_kiln, DW_NO_ROW, GIVEN(fuel)),
    [DW_OBJECT_SITE] = TABLE(site_keys, dw_site, DW_NO_ROW, GIVEN(site)),
    [DW_OBJECT_CHAMBER] = TABLE(chamber_keys, dw_chamber, DW_NO_ROW, GIVEN(chamber)),
    [DW_OBJECT_BURNER] = TABLE(burner_keys, dw_burner, 2, GIVEN(burner)),
    [DW_OBJECT_OPENING] = TABLE(opening_keys, dw_opening, 1, GIVEN(opening)),
    [DW_OBJECT_FLUE] = TABLE(flue_keys, dw_flue, DW_NO_ROW, GIVEN(flue)),
    [DW_OBJECT_DAMPER] = TABLE(damper_keys, dw_damper, 0, GIVEN(damper)),
    [DW_OBJECT_STACK] = TABLE(stack_keys, dw_stack, DW_NO_ROW, GIVEN(stack)),
    [DW_OBJECT_MODEL] = TABLE(model_keys, dw_settings, DW_NO_ROW, GIVEN(settings)),
    [DW_OBJECT_OPERATING] = TABLE(operating_keys, dw_operating, DW_NO_ROW, GIVEN(operating)),
    [DW_OBJECT_ROOM] = TABLE(room_keys, dw_room, DW_NO_ROW, GIVEN(room)),
};

const dw_short_name dw_kiln_short_names[] = {
    {"damper", "kiln.flues.*.damper.open"},
    {"gas_pressure", "operating.gas_pressure"}, {"air_pressure", "operating.air_pressure"},
    {"temperature", "operating.chamber_temperature"}, {NULL, NULL},
};
