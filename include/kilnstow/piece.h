/* piece.h: a piece of ware as the kiln sees it: blocks by height, what carries it, what it is made
 * of. */
#ifndef KILNSTOW_PIECE_H
#define KILNSTOW_PIECE_H

#include "kilnstow/shape.h"

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum { KS_LEATHER, KS_DRY, KS_BISQUE, KS_GLAZED, KS_FIRED } ks_stage;
typedef enum { KS_UPRIGHT, KS_INVERTED, KS_ON_EDGE, KS_ON_SIDE } ks_pose;
/* How a piece stands on another; on a shelf only the first of a row on edge has one. */
typedef enum { KS_NO_WAY, KS_NEST, KS_RIM, KS_PILE, KS_EDGE, KS_LID } ks_way;
#define KS_WAY_BIT(way) (1u << (way))
typedef enum { KS_WARE, KS_CONES, KS_TEST, KS_PROP_ROLE } ks_role;
typedef enum {
    KS_PART_FOOT,
    KS_PART_BODY,
    KS_PART_SLAB,
    KS_PART_GROG,
    KS_PART_STILT,
    KS_PART_COOKIE,
    KS_PART_PROP
} ks_part_kind;

/* One block: what the piece fills between two heights, seen from above, in the piece's own axes. */
typedef struct {
    ks_part_kind kind;
    double from_mm, to_mm; /* above the shelf's top, 0 <= from < to */
    ks_outline outline;
    ks_outline hollow; /* the room inside it at these heights; n = 0: solid, or closed */
} ks_part;

/* A clay body. Lengths of one mark pressed 100 long into the wet clay, as potters measure it. */
typedef struct {
    const char *id;
    struct ks_mark {
        const char *stage; /* "wet", "leather", "dry", "bisque" or "cone 6" */
        double length;
    } * bar;
    int n_bar;
    double
        shrinkage_spread; /* +- of each step's shrinkage, as a fraction of it; 0.15 if not told */
    const char *cone_low, *cone_high; /* firings it stands, NULL = not told */
    double density_kg_l;              /* fired, default 2.2 */
    double loss_on_ignition;          /* fraction of dry mass, default 0.07 */
    double price_minor_per_kg; /* wet; negative = not told. Fractions of a minor unit are allowed
                                  here */
} ks_clay;

/* What stands between shelf and foot. Thickness 0 = that layer is not there. */
typedef struct {
    ks_part_kind kind; /* SLAB, COOKIE, STILT or PROP; its beds are GROG parts */
    int clay;          /* index into order.clays, -1 = as its piece */
    ks_stage stage;
    bool stage_told; /* false: made, dried and bisqued with its form */
    double thickness_mm;
    double margin_mm; /* beyond the hull of all feet */
    bool outline_told;
    ks_outline outline;                              /* if told, replaces hull + margin */
    double bed_under_mm, bed_over_mm, bed_spread_mm; /* default 3, 3, +-2 */
    const char *bed_material;                        /* "grog", "sand", ... */
    double bed_grain_mm;
    double mass_kg; /* slab or cookie with its beds */
} ks_setter;

/* Where the user wants a piece kept. */
typedef struct {
    bool kept;
    int load, level; /* counted from 0; level from the bottom of its bay */
    const char *bay;
    ks_stand stand;
} ks_keep;

/* Where all copies of a piece are to stand, told in words; tiers as levels are named. */
typedef enum { KS_ANY_LEVEL, KS_BOTTOM, KS_LOW, KS_TOP, KS_ON_TIER, KS_NOT_ON_TIER } ks_level_word;
typedef struct {
    ks_level_word word;
    int tier;           /* from 1 at the bottom, of the last two */
    const char *beside; /* id of the piece a copy of which is on the same level; NULL = none */
} ks_level_wish;

/* What an order was understood to say of a piece's own body, upright, for telling it back; all ""
 * and 0 in a piece out of a plan. */
typedef struct {
    const char
        *shape; /* "round", "rectangular", "outline", "thrown", "widths", "photo" or "parts" */
    const char *family;                   /* whose sizes it has: "mug M"; "" none */
    double width_mm, depth_mm, height_mm; /* without handle, spout and setter */
    double foot_mm;                       /* width of what stands */
    double handle_mm, spout_mm;           /* reach, 0 = none */
} ks_understood;

/* A step of the work on a piece. */
typedef struct {
    const char *step; /* "throwing"; "" = all of it in one lump */
    double time_s;    /* for each piece */
} ks_piece_work;

/* What plans in a row have left out so often goes before all that need not go. */
enum { KS_WAITED_ENOUGH = 2 };

typedef struct {
    const char *id;    /* unique in the order */
    const char *name;  /* for people; defaults to id */
    const char *owner; /* member's id, or "" */
    int count;         /* identical copies, >= 1; 0 where it fills */
    bool fill;         /* as many as fit after all counted ware: nobody waits for any of them */
    ks_role role;
    ks_pose pose;
    ks_stage stage;
    int clay;    /* index into order.clays, -1 = not told */
    int *glazes; /* indices into order.glazes */
    int n_glazes;
    bool glazed;        /* outside carries raw glaze: touches nothing */
    bool dries_in_kiln; /* may go in leather-hard: its firing begins with its drying */
    double weighed_kg, weighed_again_kg; /* at least a day apart; NAN = not told */
    bool runny;                          /* overhangs nothing, is overhung by nothing */
    double around_mm;                    /* clearance it asks for itself, 0 = the load's */
    double outward_mm; /* how far its edge moves outward before it shrinks, in any direction */
    const char *on_id; /* piece it is to stand on, NULL = shelf */
    int on_copy;
    unsigned ways;      /* in which it may carry and be carried: KS_WAY_BIT of each, 0 = none */
    const char *lid_of; /* piece on whose copies its own are fired, a lid each; NULL = no lid */

    int n_parts;
    ks_part *parts;   /* as it enters this firing, setter and all, heights from the shelf's top */
    double height_mm; /* top of the highest part */
    double setter_mm; /* of which setter and beds */
    bool has_setter;
    ks_setter setter;
    int n_joints;          /* where it was joined wet */
    double *joints_mm;     /* above its foot, rising, below its top */
    const char *joined_to; /* the piece that it is joined onto when both are fired, NULL = none */
    double turn_step_deg;  /* it may stand turned by multiples of this: 0 any turn, 360 as drawn */
    double turn_first_deg; /* plus this */

    double mass_kg;      /* as it enters, setter included; dry of glaze water */
    double bare_mass_kg; /* of which the piece alone */
    double tape_mm;      /* its sizes may be out by so much; NAN = not told */
    double tape_part;    /* or by this part of them, where that is more than usual: a photograph */
    double clay_wet_kg;  /* what was taken of wet clay to make it; NAN = not told */
    double wall_mm;      /* thickest wall, for the schedule */
    double area_mm2;     /* seen from above */
    double volume_mm3;   /* its own box: area of its outline seen from above x its height */
    double surface_mm2;  /* inside and outside, for glaze */
    int64_t price_minor; /* -1 = not told */
    int n_work;          /* its own labour, in place of what the costs tell for every piece */
    ks_piece_work *work; /* none = not told */
    double worth;        /* what placing one copy is worth under the order's objective */

    bool must_go;
    bool locked_out;                  /* told to wait */
    double waited;                    /* plans in a row that left it out; NAN = not told */
    const char *set;                  /* pieces of one set go together or not at all; "" none */
    int due_day;                      /* days since 1970-01-01; INT_MAX = no date */
    uint32_t tags;                    /* bits into order.tags */
    const char *cone_low, *cone_high; /* from clay, glazes and its own; NULL = any */
    const char *atmosphere;           /* "oxidation", "reduction" or "" for either */
    const char *schedule;             /* schedule it must have, "" any */
    int earlier_firings;              /* how many it has been through */
    ks_keep keep;
    ks_level_wish wish;

    int file_line;          /* where it was read, for messages */
    int table;              /* into order.tables, -1 = in no table of ware */
    const char *defaults;   /* which values are our assumptions: "mass, profile", "" none */
    const char *as_entered; /* sizes in the user's own words, for sheets */
    ks_understood understood;
} ks_piece;

/* A part as wide as it gets in the firing: grown by the piece's outward_mm. Clearances of every
 * kind hold between these, so that two pieces keep, as they stand, max(the load's ware, a's around,
 * b's around; 0 if both are unglazed) + a's outward + b's outward. A plan's own outlines are not
 * grown. */
ks_outline ks_part_widest(const ks_part *part, double outward_mm);

/* A part, hollow and all, where its piece stands, on the plan's grid. */
ks_part ks_part_placed(const ks_part *part, ks_stand stand, ks_arena *arena);

/* Fraction by which a length shrinks from one stage to another, >= 0 when it shrinks; for stages
 * beyond the bar's marks the last mark counts. `cone` names the firing's end ("6") for KS_FIRED.
 * Only a total told: half of it at drying, 0.5 % at bisque, the rest at the glaze cone. */
/* Of a clay without a bar, or NULL, 8 to 15 % in all (common practice, no source): 11.5 % is taken.
 */
double ks_clay_shrinkage(const ks_clay *clay, ks_stage from, ks_stage to, const char *cone);

/* The clay at a place, -1 = none; one of 11.5 % in all where there is none or it has no bar. */
const ks_clay *ks_clay_or_usual(const ks_clay *clays, int place);

/* What a piece's feet, slab and rim do in the firing, mm. */
typedef struct {
    double outward_mm;  /* first, before it shrinks: 0.7 % of the half width */
    double expected_mm; /* of the farthest foot, about the centre of mass, over what carries it */
    double worst_mm;    /* one foot held fast */
    double slab_rim_mm; /* of the slab's own rim over the shelf */
    double form_on_slab_mm; /* farthest foot against the slab, 0 when both shrink alike */
    double expected_low_mm, expected_high_mm, worst_high_mm; /* by the spread of their shrinkage */
    double slab_rim_low_mm, slab_rim_high_mm;
    bool assumed; /* the shrinkage of a clay that matters is not told: 8 to 15 % in all is taken */
} ks_travel;
/* That of a piece fired to this cone, from its clay's bar. */
ks_travel ks_piece_travel(const ks_piece *piece, const ks_clay *clays, const char *cone);

/* Stands by itself: the least distance from under the centre of mass to the edge of the feet's
 * hull, mm, on a level shelf (tilt_deg 0) or one tilted by tilt_deg. Negative: it falls. */
double ks_piece_stands_by(const ks_piece *piece, double tilt_deg);

/* The words that files use: "body", "bisque", "upright", "cones". Static; never NULL. */
const char *ks_part_kind_name(ks_part_kind kind);
const char *ks_stage_name(ks_stage stage);
const char *ks_pose_name(ks_pose pose);
const char *ks_way_name(ks_way way); /* "" for KS_NO_WAY */
const char *ks_role_name(ks_role role);

#ifdef __cplusplus
}
#endif

#endif
