/* reason.h: why a piece waits, and what would let it in: one of a closed list, with its figures.
 * It is made where it is found out; text is made where people read it, in their language and units.
 */
#ifndef KILNSTOW_REASON_H
#define KILNSTOW_REASON_H

#ifdef __cplusplus
extern "C" {
#endif

typedef enum {
    KS_UNTOLD, /* of a plan made when only text was told */

    /* Rules that bind. */
    KS_WHY_FALLS,
    KS_WHY_TOO_HEAVY_TO_LIFT,
    KS_WHY_DOORWAY_LOW,
    KS_WHY_DOORWAY_NARROW,
    KS_WHY_STILL_WET,
    KS_WHY_STILL_LOSES_WATER,
    KS_WHY_CONE_TOO_LOW,
    KS_WHY_CONE_TOO_HIGH,
    KS_WHY_ATMOSPHERE,
    KS_WHY_OTHER_SCHEDULE,
    KS_WHY_NO_SCHEDULE,
    KS_WHY_NO_FIRING,
    KS_WHY_TOO_TALL,
    KS_WHY_TOO_WIDE,
    KS_WHY_NOT_KNOWN,
    KS_WHY_HANDS,
    KS_WHY_CONE_PACKS,
    KS_WHY_MASS_WITH_SHELVES,
    KS_WHY_MASS,
    KS_WHY_KEPT,
    KS_WHY_WISHED_BOTTOM,
    KS_WHY_WISHED_LOW,
    KS_WHY_WISHED_TOP,
    KS_WHY_WISHED_LEVEL,
    KS_WHY_WISHED_NOT_LEVEL,
    KS_WHY_WISHED_BESIDE,
    KS_WHY_BEYOND_REACH,
    KS_WHY_WAITS,
    KS_WHY_ON_ANOTHER,
    KS_WHY_SET,
    KS_WHY_APART,
    KS_WHY_QUOTA,
    KS_WHY_DUE_LATER,
    KS_WHY_LEVELS_LOW,
    KS_WHY_ENDED_EARLY,
    KS_WHY_NO_ROOM,

    /* Changes of the order, the kiln or the plan, each tried before it is told. */
    KS_CHANGE_NONE,
    KS_CHANGE_NOT_LOOKED_FOR,
    KS_CHANGE_ASK_FIT,
    KS_CHANGE_PEOPLE,
    KS_CHANGE_HOIST,
    KS_CHANGE_DOORWAY_HIGHER,
    KS_CHANGE_DOORWAY_WIDER,
    KS_CHANGE_OTHER_FIRING,
    KS_CHANGE_DRY_FIRST,
    KS_CHANGE_WEIGH_ON,
    KS_CHANGE_HAND_ROOM,
    KS_CHANGE_NO_HAND_ROOM,
    KS_CHANGE_FEWER_PACKS,
    KS_CHANGE_LIGHTER_SHELVES,
    KS_CHANGE_STRONGER_SHELF,
    KS_CHANGE_KEEP_ELSEWHERE,
    KS_CHANGE_KEEP_OFF,
    KS_CHANGE_TAG_OUT_OF_LOW,
    KS_CHANGE_LONGER_ARM,
    KS_CHANGE_WAIT_NO_MORE,
    KS_CHANGE_ON_SHELF,
    KS_CHANGE_QUOTA,
    KS_CHANGE_TURNED,
    KS_CHANGE_INSTEAD,
    KS_CHANGE_LONGER_POSTS,
    KS_CHANGE_ONE_LOAD_MORE,
    KS_CHANGE_TURN_FREELY,
    KS_CHANGE_SLAB_THINNER,
    KS_CHANGE_SLAB_NARROWER,
    KS_CHANGE_SLAB_BOTH,
    KS_CHANGE_WITHOUT_SLAB,
    KS_CHANGE_LOWER_FLOOR,
    KS_CHANGE_OTHER_KILN,
    KS_CHANGE_LOWER,
    KS_CHANGE_NARROWER,
    KS_CHANGE_NEXT_LOWER,
    KS_CHANGE_NEXT_NARROWER,
    KS_CHANGE_SCALE,
    KS_CHANGE_PROP,
    KS_CHANGE_THICKER_SHELF,
    KS_CHANGE_CARBIDE_SHELF,
    KS_CHANGE_THICKER_OR_CARBIDE,
    KS_CHANGE_IN_PARTS,
    KS_CHANGE_SLAB_LARGER,
    KS_REASONS
} ks_reason_name;

/* What forbids a firing. */
typedef enum { KS_OF_PIECE, KS_OF_BODY, KS_OF_SETTER, KS_OF_GLAZE } ks_reason_of;

/* Of the figures those that its text names; the others are 0, NULL or 1st of their list. */
typedef struct {
    ks_reason_name name;
    double by_mm;      /* lacking, or to be changed by; never less than that when it is told */
    double length_mm;  /* of a change, told in whole mm, or sixteenths of an inch */
    double margin_mm;  /* the same, of a slab's margin */
    double carbide_mm; /* how thick a shelf of silicon carbide has to be */
    double wet_mm;     /* the same change in wet clay, 0 = not known */
    double room_mm;    /* that there is, never more than that when it is told */
    double mass_kg, most_kg;
    double lifted_kg, hoist_kg; /* as ks_show_burden tells it: the nearest, upwards */
    double lost_kg;             /* told in grams */
    double percent;
    int people;
    int load;          /* from 1 */
    const char *level; /* its name */
    const char *id;    /* of a piece, a glaze or a body */
    const char *kiln, *firing, *member;
    const char *asks, *has;            /* cone or schedule: of the piece, of the firing */
    const char *atmosphere, *fired_in; /* the same of atmospheres */
    const char *material, *kiln_name;  /* of a shelf; of `kiln` */
    const char *part;                  /* "slab", "cookie" */
    ks_reason_of of;
} ks_reason;

#ifdef __cplusplus
}
#endif

#endif
