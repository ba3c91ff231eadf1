#ifndef DW_KILN_SCHEMA_H
#define DW_KILN_SCHEMA_H

/**
 * @file kiln_schema.h
 * Every key of a kiln description: what it is called, what it holds, where that goes in dw_kiln,
 * what is allowed, and one line of help.
 *
 * Layer: kiln. Constant tables (kiln_keys.c) and look-ups in them; no state, no allocation. The
 * reader, the resolved listing, the list of keys and the paths of --set and --vary all use them: a
 * key added to a table is known everywhere. Limits are texts with a unit, as a person would write
 * them, so that no conversion stands outside base/units.c.
 */

#include <stdbool.h>
#include <stddef.h>

#include "key_path.h"
#include "nearest.h"
#include "read_kiln.h"
#include "units.h"

/** Things with keys of their own. */
typedef enum dw_object {
    DW_OBJECT_FILE, /**< the whole description */
    DW_OBJECT_KILN,
    DW_OBJECT_SITE,
    DW_OBJECT_CHAMBER,
    DW_OBJECT_BURNER,
    DW_OBJECT_OPENING,
    DW_OBJECT_FLUE,
    DW_OBJECT_DAMPER, /**< of a flue */
    DW_OBJECT_STACK,
    DW_OBJECT_MODEL,
    DW_OBJECT_OPERATING,
    DW_OBJECT_ROOM,
    DW_OBJECT_COUNT
} dw_object;

/** What a key's value is and how it is stored at the key's offset. */
typedef enum dw_key_kind {
    DW_KEY_NUMBER,     /**< quantity of the key's dimension: double                          */
    DW_KEY_DIAMETER,   /**< length; the area of the circle goes to the double                */
    DW_KEY_ANGLE,      /**< plate angle; the open share 1 - sin goes to the double           */
    DW_KEY_DRILL,      /**< drill size by number or letter; its diameter goes to the double  */
    DW_KEY_LINING,     /**< named lining; its roughness goes to the double                   */
    DW_KEY_CAP,        /**< named cap; its loss goes to the double                           */
    DW_KEY_DOWNSTREAM, /**< area or the word plenum: double, and the flag of dw_flue         */
    DW_KEY_COUNT,      /**< whole number: int                                                */
    DW_KEY_SWITCH,     /**< yes or no: bool                                                  */
    DW_KEY_WORD,       /**< one of words, by its index: enum                                 */
    DW_KEY_FLAG_WORD,  /**< one of two words: bool, true for the second                      */
    DW_KEY_NAME,       /**< char[DW_NAME_SIZE]                                               */
    DW_KEY_FUEL,       /**< named fuel or map of gases: dw_fuel                              */
    DW_KEY_ROWS,       /**< damper table: rows of dw_damper                                  */
    DW_KEY_VERSION,    /**< version of these keys; not stored                                */
    DW_KEY_OBJECT,     /**< map with the keys of child, stored in place                      */
    DW_KEY_LIST        /**< list of such maps, each with a name: array, and its count        */
} dw_key_kind;

/** Where the value comes from when the key is absent. */
typedef enum dw_need {
    DW_NEED_REQUIRED,
    DW_NEED_DEFAULT, /**< a fixed value, set by dw_kiln_init(), or by dw_kiln_resolve() where
                          another key may stand in for it                                   */
    DW_NEED_DERIVED, /**< NaN until dw_kiln_resolve() works it out from other keys          */
    DW_NEED_OPTIONAL /**< stays absent: NaN, empty, or no rows; or dw_kiln_resolve() sets a fixed
                          value once another key makes it count                            */
} dw_need;

/** What must hold in a kiln for a key to have any effect, beyond the kind of its object. The first
 *  five are states that a person turns on and off; the others say that something is not there. */
typedef enum dw_needs {
    DW_NEEDS_LIT = 1u << 0,          /**< burner: burning                                     */
    DW_NEEDS_UNLIT = 1u << 1,        /**< burner: off                                         */
    DW_NEEDS_UNPLUGGED = 1u << 2,    /**< burner: lit, or off and not plugged                 */
    DW_NEEDS_OPEN = 1u << 3,         /**< opening: open at all                                */
    DW_NEEDS_SHUTTER = 1u << 4,      /**< burner: shutter open at all                         */
    DW_NEEDS_AIR_JET = 1u << 5,      /**< burner: a compressed-air jet                        */
    DW_NEEDS_AIR_USER = 1u << 6,     /**< burner: an air jet, or air through a restriction    */
    DW_NEEDS_AIR_PRESSURE = 1u << 7, /**< burner: air under pressure                         */
    DW_NEEDS_RESTRICTION = 1u << 8,  /**< blown burner: no fixed air flow                     */
    DW_NEEDS_SHUTTER_AREA = 1u << 9, /**< burner: the shutter's area is given                */
    DW_NEEDS_LEAK = 1u << 10,        /**< chamber: leaks                                      */
    DW_NEEDS_RELIEF = 1u << 11,      /**< stack: a relief opening                             */
    DW_NEEDS_NO_HOOD = 1u << 12,     /**< stack: goes up to its top                           */
    DW_NEEDS_BENDS = 1u << 13,       /**< stack: bends                                        */
    DW_NEEDS_BEHIND = 1u << 14,      /**< flue: the damper's law asks what is behind it       */
    DW_NEEDS_NO_PRESSURE = 1u << 15, /**< site: the air pressure is not given                */
    DW_NEEDS_OUTSIDE = 1u << 16,     /**< site: a stack that ends outside, or a room          */
    DW_NEEDS_SHARED_GAS = 1u << 17,  /**< operating: a lit burner without a pressure of its own */
    DW_NEEDS_SHARED_AIR = 1u << 18,  /**< the same of air                                     */
    DW_NEEDS_FAN = 1u << 19,         /**< room: an exhaust fan                                */
    DW_NEEDS_PERSON = 1u << 20,      /**< room: height and mass of the person                 */
    DW_NEEDS_JET = 1u << 22,         /**< burner: lit, or looked at by a rule of thumb        */
    DW_NEEDS_ROOM = 1u << 23,        /**< opening: a room around the kiln                     */
    DW_NEEDS_MANIFOLD = 1u << 24,    /**< operating: the gauge is not at the jets              */
    DW_NEEDS_WIND = 1u << 25,        /**< site: wind                                           */
    DW_NEEDS_JET_KIND = 1u << 26,    /**< burner: a coefficient of the jet that is not given   */
    DW_NEEDS_NO_LEAK_AREA = 1u << 27, /**< chamber: the leak area is not given                 */
    DW_NEEDS_NO_DISCHARGE = 1u << 28, /**< opening: no discharge coefficient is given          */
    DW_NEEDS_NO_FLOOR_LOSS = 1u << 29, /**< flue: floor_loss is not given                      */
    DW_NEEDS_PLATE_SIZE = 1u << 30,  /**< damper: thickness of the shelf, and width of the mouth */
    /* Bits run out: needs of the stack share theirs with those of openings, which are asked apart. */
    DW_NEEDS_OUTSIDE_TOP = 1u << 23, /**< stack, site: ends outside                            */
    DW_NEEDS_NO_WALL = 1u << 28,     /**< stack: the wall is not given                         */
    DW_NEEDS_OUTSIDE_AIR = 1u << 21  /**< the same as OUTSIDE, for what does no harm to give  */
} dw_needs;

/** One key. Its name has a dot when it stands in a group, a map without an object of its own:
 *  `jet: {diameter: 1.8 mm}` is the key `jet.diameter`. */
typedef struct dw_key {
    const char *name;
    dw_key_kind kind;
    dw_need need;
    dw_dim dim;             /**< NUMBER, DIAMETER, ANGLE, DOWNSTREAM                       */
    dw_object child;        /**< OBJECT, LIST                                              */
    size_t offset;          /**< in the object's struct                                    */
    const char *low, *high; /**< allowed, with unit; NULL when the kind has no limits      */
    const char *usual_low, *usual_high; /**< outside is a warning; NULL: none                 */
    const char *choice;       /**< at most one of the keys with the same choice is given     */
    const char *const *words; /**< WORD, FLAG_WORD: ended by NULL                            */
    size_t count_offset;      /**< LIST: of the int in dw_kiln                               */
    int list_max;             /**< LIST                                                      */
    unsigned applies;         /**< bit per kind of the object to which the key matters; 0: all */
    unsigned required_for;    /**< bit per kind that requires the key; 0: all                */
    unsigned needs;           /**< dw_needs without which the key has no effect; 0: none     */
    const char *help;         /**< one line, lower case, no full stop                        */
} dw_key;

/** Most keys of one object: one bit each in dw_kiln_given. */
enum { DW_KEY_MAX = 64, DW_NO_ROW = -1 };

/** The description as a whole has no word in dw_kiln_given. */
#define DW_NO_GIVEN ((size_t)-1)

/** The keys of an object. */
typedef struct dw_keys {
    const dw_key *key;
    int count;
    int kind_row; /**< the key that says the object's kind; DW_NO_ROW                  */
    size_t size;  /**< of the struct                                                   */
    size_t given; /**< offset of the object's first word in dw_kiln_given, or NO_GIVEN */
} dw_keys;

/** The tables themselves (kiln_keys.c). */
extern const dw_keys dw_kiln_key_tables[DW_OBJECT_COUNT];

/** A short name and the path that it stands for, ended by NULLs. */
typedef struct dw_short_name {
    const char *name, *path;
} dw_short_name;
extern const dw_short_name dw_kiln_short_names[];

/** Keys of an object; never NULL. */
const dw_keys *dw_keys_of(dw_object object);

/** Row of a key by its full name; DW_NO_ROW when the object has none. */
int dw_keys_row(const dw_keys *keys, const char *name);

/** True when some key stands in a group of this name. */
bool dw_keys_have_group(const dw_keys *keys, const char *group);

/** Words of a choice, for messages. */
typedef struct dw_words {
    size_t count, used;           /**< words, bytes of text */
    const char *word[DW_KEY_MAX]; /**< into text */
    char text[2048];
} dw_words;

/** Words that may come next in a path: the first steps of all names, or the second steps of one
 *  group (NULL: first steps), each once. Pointers go into *words: do not copy it. */
void dw_keys_words(const dw_keys *keys, const char *group, dw_words *words);

/** Words that a path of --set or --vary may begin with; alone: the path is that word, so that short
 *  names are among them. */
void dw_path_first_words(bool alone, dw_words *words);

/** Kind of an object as read (index of its word); 0 when it has no kinds. */
unsigned dw_object_kind(const dw_keys *keys, const void *object);

/** True when the key matters to an object of this kind. */
bool dw_key_applies(const dw_key *key, unsigned kind);

/** True when an object of this kind cannot do without the key, or one of its choice. */
bool dw_key_required(const dw_key *key, unsigned kind);

/** Place of an object in dw_kiln; index is that of the burner, opening or flue, 0 for the rest. */
size_t dw_object_offset(dw_object object, int index);

/** Kinds that store a number as it is, so that it can be listed and varied. */
bool dw_key_is_plain_number(const dw_key *key);

/** The row whose value this one ends up in: itself, or the plain number at the same offset. */
int dw_keys_target(const dw_keys *keys, int row);

/** SI value of a limit text (low, high, usual_low, usual_high of a key); NaN for NULL. */
double dw_key_limit(const dw_key *key, const char *limit);

/** What is allowed, for messages and the list of keys: "0.1 mm to 20 mm", "yes or no" ... data names
 *  the fuels, linings and caps; NULL: they are not named. */
void dw_key_expected(const dw_key *key, const dw_data *data, char *out, size_t size);

/** The word of dw_kiln_given for an object; index is that of the burner, opening or flue, 0 for the
 *  rest. NULL for the description as a whole. */
unsigned long long *dw_given_word(dw_kiln_given *given, dw_object object, int index);

#endif
