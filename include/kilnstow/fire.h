/* fire.h: simulates the firing of one load: curve, hours, kilowatt-hours, and the cone each level
 * sees. */
#ifndef KILNSTOW_FIRE_H
#define KILNSTOW_FIRE_H

#include "kilnstow/materials.h"
#include "kilnstow/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Where the energy of a firing has gone when its schedule is over, kWh. They add up to total. */
typedef struct {
    double total;     /* from the meter; gas: higher heating value of the fuel burnt */
    double ware;      /* held by ware, setters and cone packs */
    double furniture; /* held by shelves and posts */
    double lining;    /* held by wall, lid, floor and elements */
    double casing;    /* lost through the casing */
    double vent;      /* carried off by the air drawn through and leaking */
    double chemistry; /* water, clay's own water, carbonates; less what organics gave */
    double flue;      /* gas only: carried off by the flue gases */
} ks_energy;

/* One input that is not known exactly, and what it does to the answer. */
typedef struct {
    const char *input;        /* "conductivity of the lining" */
    const char *spread;       /* "8 % (1 sigma), laboratories' scatter" */
    double low_kwh, high_kwh; /* total with the input one sigma to either side, the lower first */
    bool fails; /* on one side the kiln does not get to its end: that side does not count */
} ks_fire_doubt;

/* A moment of the firing. */
typedef struct {
    double time_h;
    double set_c;                    /* set point; NAN when nothing is asked of the kiln */
    double chamber_c;                /* what the kiln's thermocouple reads */
    double power_kw;                 /* mean over the step that ends here; gas: fuel */
    double casing_c;                 /* hottest place outside */
    const double *edge_c, *middle_c; /* ware by level, n_levels of each */
} ks_fire_point;

/* What the ware saw against what it asks for. */
typedef enum { KS_IN_RANGE, KS_UNDER, KS_OVER, KS_UNDER_AND_OVER } ks_seen;

/* Copies of a piece at one place that did not see what they ask for. */
typedef struct {
    int piece;      /* into order.pieces; -1 = a level's ware, known only in bulk */
    const char *id; /* its id, "" in bulk */
    int level;      /* into load.levels */
    bool middle;    /* stands in the middle of it */
    int copies;
    ks_seen seen;              /* KS_UNDER or KS_OVER */
    int asked_low, asked_high; /* places in the row of cones */
    double saw;                /* place in the row, with its fraction */
    const char
        *elsewhere; /* "on level 2, at its edge, it would see cone 5.5+0.3", or that none suits */
} ks_piece_outside;

/* What a level goes through. */
typedef struct {
    int level;        /* into load.levels */
    const char *name; /* "3", or "3 left" where bays stand side by side */
    double ware_kg, furniture_kg;
    double peak_edge_c, peak_middle_c;
    double cone_edge, cone_middle; /* heat work as a cone's place in ks_cone(), with its fraction; <
                                      0 below the row */
    const char *cone_text;         /* "between 5.5 and 6" */
    double lag_k; /* greatest distance of its middle behind the chamber, while heating */
} ks_level_fired;

/* A layer of the lining at its hottest. */
typedef struct {
    const char *where, *material; /* "wall", "lid", "floor" */
    bool hot_face;
    double peak_c;  /* on its hot side */
    double limit_c; /* 0 = not told */
} ks_layer_fired;

/* A segment as asked and as it went. */
typedef struct {
    ks_segment asked;
    double from_h;              /* when it began, since switching on */
    double from_c, to_c, hours; /* as it went, hold included */
    bool ended_by_cone;         /* at to_c, whatever was asked */
    bool followed;
    double left_at_c;    /* where it fell behind, NAN when it did not */
    const char *instead; /* what the kiln does there, "" when it followed */
    const char *reason;  /* why the segment is as it is, "" for the user's own */
} ks_segment_fired;

/* Where a segment really ends: what a schedule worked out here asks of its last one is only a limit
 * that its cone is not to reach. */
double ks_segment_target_c(const ks_segment_fired *segment);

/* A wall that is asked more than it bears (with the factor of safety), at its worst moment. */
typedef struct {
    int piece;         /* into order.pieces, -1 in bulk */
    const char *kind;  /* "water", "steam", "carbon", "heating", "cooling" */
    double at_c, at_h; /* at_h: since switching on */
    double went,
        bears;        /* K/h; water: left and borne, by dry mass; carbon: hours given and needed */
    int more;         /* other kinds of ware that are asked too much in the same way */
    const char *says; /* what, and what to do */
} ks_penalty;

/* A turn of the switches of a kiln without a controller. */
typedef struct {
    double at_h, at_c; /* since switching on; about what the chamber then has */
    double part;       /* of all its power */
    bool lid_propped;
    bool minded;       /* switched off and on by hand so that it stays at hold_c */
    double hold_c;     /* where minded, else NAN */
    double toward_k_h; /* where minded: or goes there no faster than so; 0 = stays */
    const char *set;   /* "all switches low" */
    const char *mind;  /* "off and on near 90 C", or "" */
    const char *look;  /* what tells that it is time */
} ks_turn;

/* The piece that sets the pace of a schedule worked out here. */
typedef struct {
    const char *piece;           /* id, NULL when no piece holds the others up */
    const char *why;             /* "its raw slab of 12 mm dries from one side" */
    double hours_more, kwh_more; /* than the same load without that need */
} ks_pace;

typedef struct {
    bool reached; /* seen is KS_IN_RANGE, and the schedule has run to its end */
    ks_seen seen; /* by the pieces' own ranges, or the firing's cone for those that tell none */
    int n_outside;
    ks_piece_outside *outside;
    const char *change;  /* what brings every piece inside, fired anew to be sure; "" = nothing to
                            change, or no one change found */
    ks_schedule *cure;   /* the schedule with that change, NULL = none */
    const char *verdict; /* one sentence */
    double hours;        /* from switching on to the end of the schedule */
    double cone_down_h; /* from switching on until the cone that the firing asks for is down, by the
                           mean of the levels' edges; NAN = never, or none asked for */
    double open_after_hours;        /* from the end of the schedule until all ware is below open_c;
                                       infinity = not in 10 days */
    double open_low_h, open_high_h; /* 9 of 10 kilns lie between, as open_after_hours; equal to it
                                       when no range was asked for */
    double open_propped_h; /* the same with lid or door propped by a hand's breadth once the chamber
                              is below propped_from_c; NAN = it is cooled by other means */
    double open_c, propped_from_c;
    double peak_kw;   /* while the relays are in; gas: burners' highest */
    double demand_kw; /* highest mean over a quarter of an hour */
    double amps,
        circuit_amps; /* drawn at most; what a circuit must be rated for (125 %); 0 for gas */
    double
        ledger_residual; /* worst |in - stored - lost| over all steps, as a fraction of the total */
    ks_energy energy;
    double low_kwh,
        high_kwh; /* 9 of 10 firings lie between; equal to total when no range was asked for */
    int n_doubts;
    ks_fire_doubt *doubts;
    double fuel_m3, fuel_kg; /* gas: what the total is in m3 of natural gas, or kg of propane */
    double top_c;            /* highest the chamber gets */
    ks_schedule schedule;    /* that was fired */
    int n_segments;
    ks_segment_fired *segments; /* one for each of the schedule; none where people turn switches */
    int n_turns;
    ks_turn *turns; /* of a kiln without a controller: the first that turns all off is the end of
                       heating, the last that of the firing */
    ks_pace pace;
    int n_drying;
    const char **drying; /* how wet ware dries before it rises past boiling, in order */
    int n_strains;
    ks_penalty *strains; /* the worst wall for each kind */
    int n_levels;
    ks_level_fired *levels; /* in the order of load.levels */
    int n_layers;
    ks_layer_fired *layers; /* wall, lid, floor, each from its hot face */
    int n_points;
    ks_fire_point *points;
    int n_assumed;
    const char **assumed;      /* what was not told and has been taken for granted */
    int n_cautions, n_special; /* those special to this load come first */
    const char **cautions;
} ks_firing_result;

typedef struct {
    int load;                    /* into plan.loads */
    const ks_schedule *schedule; /* NULL = the load's own, or one worked out from the load */
    const char
        *style;   /* of a schedule worked out here, NULL = by the load; see ks_schedule_styles */
    double volts; /* at the kiln, 0 = the kiln's own figure */
    double elements_worn; /* rise of the elements' resistance, as a fraction */
    double ware_fraction; /* of the load's ware that is really in it, same shelves; 1 */
    double room_c;        /* 20 */
    double vent_off_c;    /* the vent is shut above this, 0 = as the kiln's file tells, else it runs
                             until the end of the schedule */
    ks_cool_by cool_by;   /* usual = as the kiln's file tells */
    double cool_from_c;   /* below this; 0 = as the kiln's file tells, else from the end on */
    double as_built;      /* factor on the lining's conductance, 1 */
    double as_built_spread; /* one sigma of it once tuned, as a fraction; 0 = not tuned */
    double store_factor;    /* on what lining and furniture hold, 1 */
    double store_spread;    /* one sigma of it once tuned, 0 = not tuned */
    double tuned_together;  /* correlation of the two, -1 to 1: firings that are alike do not tell
                               them apart, and what one is doubted by the other makes up for */
    bool range;             /* work out low and high: about 15 more runs */
    bool cooling;           /* follow the kiln until it may be opened */
    bool pace;              /* work out what the slowest piece costs the others: one more run */
    const ks_materials *materials; /* NULL = those built in */
    double step_s;                 /* 60 */
    int cells;                     /* conduction cells through a layer, 0 = one to about 6 mm */
} ks_fire_options;
/* What holds where nobody tells: the load's own schedule, volts as rated, an untuned kiln. */
ks_fire_options ks_fire_default(void);

/* Fires one load of the plan. Fails with KS_BAD_INPUT when the kiln's lining names an unknown
 * material, a cone is not in the row, or a schedule cannot be run (no segments, a target above
 * 1700 C); a kiln that is too weak is an answer, in out->reached and out->segments. */
ks_status ks_fire(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                  ks_firing_result *out, ks_error *err);

/* The usual cautions, whatever is fired: the first n_short close every answer, all of them are for
 * the wall beside the kiln. */
typedef struct {
    int n, n_short;
    const char *const *lines;
} ks_usual_cautions;
/* In the language spoken and the order's own units. */
ks_usual_cautions ks_kiln_cautions(const ks_kiln *kiln, const ks_display *display, ks_arena *arena);

/* A load known only in bulk, as in an old log: its kilograms, spread evenly over `levels`. */
typedef struct {
    double ware_kg, furniture_kg;
    int levels;
    ks_stage stage;
    double loss_on_ignition, wall_mm;
    ks_firing firing;
} ks_bulk_load;
/* Fires such a load; fails as ks_fire does. */
ks_status ks_fire_bulk(const ks_kiln *kiln, const ks_bulk_load *bulk,
                       const ks_fire_options *options, ks_arena *arena, ks_firing_result *out,
                       ks_error *err);

/* A firing with a meter's reading. Either `plan` (its load is options.load), or `kiln` and `bulk`.
 */
typedef struct {
    const ks_plan *plan;
    const ks_kiln *kiln;
    const ks_bulk_load *bulk;
    ks_fire_options options;
    double meter_kwh;
} ks_metered;

/* What a kiln's own meter says about it. */
typedef struct {
    double as_built, as_built_spread; /* for ks_fire_options; spread as a fraction, one sigma */
    double store_factor, store_spread;
    double together;  /* correlation of the two */
    bool store_tuned; /* it moved too: three firings or more told the two apart */
    double before,
        after;       /* root mean square error of the model, as a fraction, without and with it */
    double held_out; /* the same for each firing by the others alone; NAN with fewer than two */
    int used;        /* firings that went in */
    double *off;     /* of each, how far its meter is above what the tuned model says: a fraction */
    const char *warning; /* why what the meters ask for was not believed, "" = it was */
} ks_tuning;

/* Fits the factors to 1 or more metered firings of one kiln. One or two firings move only as_built,
 * and less so the fewer they are. */
ks_status ks_fire_tune(const ks_metered *firings, int count, ks_arena *arena, ks_tuning *out,
                       ks_error *err);

/* The kinds of schedule that can be worked out from a load; ended by an entry with name NULL. */
typedef struct {
    const char *name, *purpose;
} ks_schedule_style;
/* All of them, static. */
const ks_schedule_style *ks_schedule_styles(void);

/* A schedule with the reason for each of its segments. */
typedef struct {
    ks_schedule schedule;
    const char **reasons; /* one for each segment: what limits its rate, and why it holds */
    const char **holds;   /* the latter alone, "" = nothing */
    const char *style;
    int slowest; /* into order.pieces: who sets the pace, -1 = nobody in particular */
    const char *why_slowest;
    const char *merged; /* what was lost for the controller to hold it, "" = nothing */
} ks_worked_schedule;

/* Works out a starting schedule for the load; options gives load and style. */
ks_status ks_schedule_work_out(const ks_plan *plan, const ks_fire_options *options, ks_arena *arena,
                               ks_worked_schedule *out, ks_error *err);

#ifdef __cplusplus
}
#endif

#endif
