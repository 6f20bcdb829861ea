/* order.h: the whole question: what ware, which kilns, by which rules. */
#ifndef KILNSTOW_ORDER_H
#define KILNSTOW_ORDER_H

#include "kilnstow/clock.h"
#include "kilnstow/error.h"
#include "kilnstow/kiln.h"
#include "kilnstow/piece.h"
#include "kilnstow/reason.h"

#include <limits.h>

#ifdef __cplusplus
extern "C" {
#endif

enum { KS_NO_DAY = INT_MAX };

/* How the user writes sizes, so that sheets answer in the same. */
typedef struct {
    const char *length; /* "mm", "cm" or "in" */
    const char *mass;   /* "kg", "g", "lb" or "oz" */
    const char *temp;   /* "C" or "F" */
} ks_display;

/* A firing the studio does. */
typedef struct {
    const char *id;
    const char *cone;       /* "04", "6", ...; "" when it ends by temperature */
    double top_temp_c;      /* 0 when it ends by cone */
    const char *atmosphere; /* "oxidation" or "reduction" */
    const char *schedule;   /* a schedule's id, "" = worked out from the load */
} ks_firing;

typedef struct {
    double rate_c_h; /* < 0 cools under control, 0 = as fast as the kiln can */
    double target_c;
    double hold_h;
} ks_segment;

typedef struct {
    const char *id, *purpose;
    int n_segments;
    ks_segment *segments;
    const char *end_cone; /* ends when this cone is down, "" = by temperature */
} ks_schedule;

/* A glaze: a base recipe in parts plus additions in per cent of the base. */
typedef struct {
    const char *id, *name;
    const char *cone_low, *cone_high; /* NULL = not told */
    const char *atmosphere;           /* "" = either */
    bool runny;
    uint32_t tags;
    int n_lines;
    struct ks_recipe_line {
        int material; /* into order.materials */
        double parts; /* of the base, or per cent of it for an addition */
        bool addition;
    } * lines;
    int coats;
    double laid_g_per_m2_coat; /* dry glaze on the surface, per coat */
} ks_glaze;

typedef struct {
    const char *id, *name;
    int64_t price_minor; /* of a pack */
    double pack_kg;
    const char *caution; /* what it can do to whoever handles it, "" none */
} ks_material;

typedef struct {
    const char *id, *name, *initials;
    double quota_litres; /* of box volume in each load, 0 = none */
    int quota_pieces;    /* 0 = none */
    bool guest;
    double discount;          /* on what her firings cost, fraction */
    const char *subscription; /* id of one of the costs', "" = none */
} ks_member;

/* Where no ware may stand: a level by its word, or all that lies between two heights. */
typedef struct {
    ks_level_wish level;   /* KS_ANY_LEVEL: the heights are told */
    double from_mm, to_mm; /* above the chamber floor */
} ks_no_ware;

/* Tags that must not share a level or a load. */
typedef struct {
    uint32_t a, b; /* one bit each, into order.tags; may be the same */
    bool whole_load;
} ks_apart;

/* A firing that can take place: one load of one kiln. */
typedef struct {
    int kiln;   /* into order.kilns */
    int firing; /* into order.firings, -1 = any of them */
    int day;    /* days since 1970-01-01, KS_NO_DAY = not dated */
} ks_slot;

typedef enum { KS_BY_VOLUME, KS_BY_PRICE, KS_BY_COUNT } ks_objective;

/* The hand that whoever loads carries with. */
typedef enum { KS_RIGHT_HANDED, KS_LEFT_HANDED } ks_handed;

/* Witness cones, put in by themselves. */
typedef struct {
    bool wanted;
    bool bottom, middle, top;
    bool at_peephole; /* in sight of a peephole, where the kiln has one */
    double width_mm, depth_mm, height_mm;
    bool by_size; /* which levels is not told: one pack is enough for a small kiln */
    bool one;     /* a single pack is asked for, on whichever level */
} ks_cone_packs;

/* What unglazed ware that stands on other ware may ask of it. */
typedef struct {
    int rims;           /* pieces on one another's rims, default 3 */
    int nest;           /* pieces in one another, default 6 */
    int plates, tiles;  /* in a pile, default 5 and 10 */
    double carried;     /* times its own mass that a piece carries, default 3 */
    double thin_rim_mm; /* a thinner wall carries nothing on its rim, default 3 */
    double thick_mm;    /* raw ware with a thicker wall carries nothing, default 15 */
    double finger_mm;   /* free beside what stands deeper than a rim, default 12 */
} ks_stacking;
extern const ks_stacking ks_usual_stacking;

typedef struct {
    ks_objective objective;
    ks_clearance clearance; /* as the order overrides them, < 0 = the kiln's */
    int n_apart;
    ks_apart *apart;
    int n_no_ware;
    ks_no_ware *no_ware;
    uint32_t low_tags; /* ware with any of these is to stand low, unless it is kept otherwise */
    ks_cone_packs cones;
    double hand_room_mm;     /* beside large pieces in a front loader, default 25 */
    ks_handed hand;          /* the walk of loading begins at the far side of the other one */
    double large_mm;         /* from what breadth a piece is large, default 250 */
    double outward_fraction; /* default 0.007 */
    bool fewest_levels;      /* of plans worth the same, before fewest shelves */
    bool fair;               /* each owner's first piece before anyone's second, and so on */
    int lifters;             /* people at hand to lift a form in, 0 = not told */
    double hoist_kg;         /* what a hoist at hand lifts, 0 = none or not told */
    double arm_mm;           /* from the rim down to where hands still set down what is heavy; 0 =
                              * however deep. Default 700 */
    double heavy_kg;         /* from what mass a piece is heavy so, default 8 */
    ks_stacking stacking;
} ks_rules;

typedef struct {
    const char *file; /* where it was read */
    const char *title, *studio, *note;
    const char *currency; /* ISO 4217 code, default "EUR" */
    ks_display display;
    const char *zone; /* POSIX TZ rule of the studio: "CET-1CEST,M3.5.0,M10.5.0/3"; "" = not told */
    bool start_told;
    int start_min;      /* minute of the day at which dated loads are switched on */
    double loading_s;   /* before that, to load a kiln; NAN = not told */
    double unloading_s; /* NAN = not told */
    int n_open;
    ks_window *open; /* when someone may be at the studio; none = not told */
    ks_rules rules;
    int n_clays;
    ks_clay *clays;
    int n_materials;
    ks_material *materials;
    int n_glazes;
    ks_glaze *glazes;
    int n_members;
    ks_member *members;
    int n_tags;
    const char **tags; /* names of the bits, at most 32 */
    int n_firings;
    ks_firing *firings; /* at least one */
    int n_schedules;
    ks_schedule *schedules;
    int n_kilns;
    ks_kiln *kilns; /* at least one */
    int n_slots;
    ks_slot *slots; /* the loads that may be planned, in order of day */
    int n_pieces;
    ks_piece *pieces;
    int n_tables;
    struct ks_ware_table *tables; /* of ware, as they were read; none in a plan */
    int n_read;
    const char **read; /* paths of the files it was read from: its own, kilns, ware */
    int n_warnings;
    const char **warnings;        /* things understood, but worth a look */
    struct ks_money_terms *money; /* what costing needs; NULL when the order names none */
} ks_order;

/* Reads an order and all files it names (CSV ware, kilns), relative to its own folder; a kiln is
 * also looked for as `kiln_folder`/NAME.json. Everything lives in `arena`. */
ks_status ks_order_read(const char *path, const char *kiln_folder, ks_arena *arena, ks_order **out,
                        ks_error *err);

/* The same; `columns` tells what headings of ware tables mean, beside those that are known:
 * "Durchmesser=diameter,Notiz=none", NULL = nothing. */
ks_status ks_order_read_columns(const char *path, const char *kiln_folder, const char *columns,
                                ks_arena *arena, ks_order **out, ks_error *err);

/* Reads one kiln's file. */
ks_status ks_kiln_read(const char *path, ks_arena *arena, ks_kiln *out, ks_error *err);

/* Reads one schedule's file, "kilnstow-schedule/1": the keys of a schedule within an order. */
ks_status ks_schedule_read(const char *path, ks_arena *arena, ks_schedule *out, ks_error *err);

/* Whether the piece may be in a load fired so; if not, `why` (may be NULL) tells which body, glaze
 * or wish forbids it. */
bool ks_piece_suits(const ks_order *order, const ks_piece *piece, const ks_firing *firing,
                    ks_reason *why);

/* The clearances that hold for a load in this kiln under this order. */
ks_clearance ks_order_clearance(const ks_order *order, const ks_kiln *kiln);

/* The cone packs that a load in this kiln is to have. */
ks_cone_packs ks_order_cones(const ks_order *order, const ks_kiln *kiln);

/* The order's own schedule of that id; NULL = it has none, or none is named. */
const ks_schedule *ks_order_schedule(const ks_order *order, const char *id);

/* Cones from coldest to hottest: place in the row, -1 if there is no such cone ("5.5" and "5 1/2"
 * are one). */
int ks_cone_rank(const char *cone);
/* And back: "022" for 0; NULL beyond the row. */
enum { KS_CONES_KNOWN = 38 };
const char *ks_cone_name(int rank);

#ifdef __cplusplus
}
#endif

#endif
