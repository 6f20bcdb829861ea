/* kiln.h: a kiln: its chamber, what heats it, and the furniture in stock. */
#ifndef KILNSTOW_KILN_H
#define KILNSTOW_KILN_H

#include "kilnstow/shape.h"

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

typedef enum { KS_TOP_LOADER, KS_FRONT_LOADER } ks_loading;
typedef enum { KS_ELECTRIC, KS_GAS } ks_heat_kind;

/* Who turns its heaters up and down. */
typedef enum { KS_BY_CONTROLLER, KS_BY_SWITCHES } ks_control;

/* What cools a kiln once its heaters are off, beside its walls and cracks. */
typedef enum {
    KS_COOLS_USUAL,   /* electric: shut; gas: by damper below 250 C */
    KS_COOLS_SHUT,    /* nothing more */
    KS_COOLS_VENT,    /* the vent runs on */
    KS_COOLS_DAMPER,  /* gas: damper and burner ports open */
    KS_COOLS_LID_OPEN /* lid propped or door ajar by 20 mm */
} ks_cool_by;

/* Least distances, mm: the name in files, what is usual (common practice, no source), and between
 * what. A new one is a line here, a rule of the packer and a rule of the checker. */
#define KS_CLEARANCES(each)                                                                        \
    each(ware, 6, "between glazed pieces")                                                         \
        each(under, 12, "between a piece and one it overhangs, in height")                         \
            each(setter, 6, "between setters") each(wall, 25, "from the chamber's wall")           \
                each(lid, 13, "under lid or roof") each(post, 6, "from a post")                    \
                    each(above, 6, "between a piece and the shelf over it")                        \
                        each(shelf_edge, 0, "from the edge of its shelf to a foot")                \
                            each(overhang, 0, "how far a body may reach beyond its shelf")

#define KS_CLEARANCE_MEMBER(name, usual_mm, what) double name;
typedef struct {
    KS_CLEARANCES(KS_CLEARANCE_MEMBER)
} ks_clearance;

/* The same, for whoever treats them all alike. */
typedef struct {
    const char *name;
    double usual_mm;
    const char *what;
    size_t at; /* its place in a ks_clearance */
} ks_clearance_kind;
extern const ks_clearance_kind ks_clearances[];
extern const int ks_n_clearances;

/* The i-th of them, within a ks_clearance. */
double *ks_clearance_at(ks_clearance *clearance, int i);

/* What is usual where neither kiln nor order tells. */
ks_clearance ks_clearance_usual(void);

typedef struct {
    double from_mm, to_mm; /* above the chamber floor */
    ks_outline outline;
} ks_chamber_part;

typedef struct {
    const char *kind; /* "sensor", "peephole", ... */
    ks_outline outline;
    double from_mm, to_mm; /* above the chamber floor */
    double clearance_mm;
} ks_keep_out;

/* A kind of shelf in stock. Its outline has its own axes; a bay says where it lies. */
typedef struct {
    const char *id, *material, *condition;
    ks_outline outline;
    double thickness_mm;
    int count;
    double mass_kg;      /* of one; default area x thickness x density of its material */
    double safe_load_kg; /* 0 = worked out from bending on its posts */
} ks_shelf_kind;

typedef struct {
    const char *id;
    double height_mm;
    ks_outline outline; /* centred on its origin; a disc or a polygon */
    int count;
    double mass_kg; /* of one */
} ks_post_kind;

/* A way of carrying a level: shelves laid side by side and the places of the posts that carry the
 * level above. Every shelf of a support lies at one height. */
typedef struct {
    int n_shelves;
    struct ks_laid_shelf {
        int kind; /* into kiln.shelves */
        ks_stand stand;
    } * shelves;
    int n_posts;
    ks_point *posts; /* centres, chamber axes; three to a shelf, a post at a seam may serve two */
    bool posts_turn; /* the posts may be turned together about the chamber's centre */
} ks_support;

/* A column of levels. */
typedef struct {
    const char *id;
    ks_outline outline; /* where its ware stays, chamber axes */
    int n_supports;
    ks_support *supports; /* the ways it can be shelved */
} ks_bay;

/* Bays that stand side by side and fill the chamber. A load goes up in one arrangement, and may
 * change to another where all the bays of the lower one end at one height. */
typedef struct {
    const char *id;
    int n_bays;
    int *bays; /* into kiln.bays */
} ks_arrangement;

typedef struct {
    const char *material; /* name in the materials table */
    double thickness_mm;
} ks_layer;

typedef struct {
    int n_layers;
    ks_layer *layers; /* hot face first */
} ks_lining;

/* A zone of elements or the burners; shares add up to 1. */
typedef struct {
    double from_mm, to_mm; /* above the chamber floor */
    double share;
} ks_zone;

typedef struct {
    ks_heat_kind kind;
    double rated_kw;                  /* electric: at rated volts; gas: burner input at HHV */
    double rated_volts, supply_volts; /* 0 for gas */
    int phases;                       /* 1 or 3 */
    double amps;
    int n_zones;
    ks_zone *zones;
    double top_temp_c; /* the maker's limit */
    const char *fuel;  /* "natural gas", "propane", "" */
    double excess_air; /* fraction */
    double vent_m3_h;  /* air drawn through the chamber, at room temperature */
    double leak_m3_h;
    double casing_emissivity;
    ks_control control;
    int segments; /* that its controller holds, 0 = not told */
    ks_cool_by cool_by;
    double vent_off_c, cool_from_c; /* the vent is shut above, cooled so below; NAN = not told */
    ks_lining wall, lid, floor;
} ks_heat;

typedef struct {
    const char *id, *name; /* named by size and shape */
    const char *note;      /* source of its figures */
    ks_loading loading;
    double height_mm; /* floor to lid */
    int n_parts;
    ks_chamber_part *parts; /* one for a straight chamber; more for an arch or a domed lid */
    double opening_width_mm, opening_height_mm,
        opening_sill_mm; /* front loader's doorway, sill above the chamber floor */
    double floor_above_ground_mm, rim_above_ground_mm;
    ks_clearance clearance;
    double first_gap_mm,
        top_gap_mm; /* least gap over the lowest shelves and under the lid; 0 = none asked */
    int n_keep_outs;
    ks_keep_out *keep_outs;
    int stock_day; /* on which shelves and posts were counted, days since 1970-01-01; KS_NO_DAY */
    int n_shelves;
    ks_shelf_kind *shelves;
    int n_posts;
    ks_post_kind *posts;
    int n_bays;
    ks_bay *bays;
    int n_arrangements;
    ks_arrangement *arrangements;
    double floor_post_least_mm; /* bottom shelves stand on posts at least this tall */
    double mass_limit_kg;       /* ware and furniture, 0 = none told */
    ks_heat heat;
    const char *defaults; /* which values are our assumptions */
} ks_kiln;

/* Of the whole chamber, as if it were empty. */
double ks_chamber_litres(const ks_kiln *kiln);

#ifdef __cplusplus
}
#endif

#endif
