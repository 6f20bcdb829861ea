/* fit.h: does this piece, on its setter, go in; with how much room; and if not, what would let it.
 */
#ifndef KILNSTOW_FIT_H
#define KILNSTOW_FIT_H

#include "kilnstow/plan.h"

#ifdef __cplusplus
extern "C" {
#endif

/* One way to stand in a kiln, on the lowest shelf: under the lid, every shelf over it left out, or
 * under another shelf. */
typedef struct {
    bool possible;        /* the kiln has shelves and posts for it */
    int bay, support;     /* into kiln.bays and its supports */
    int standing, column; /* of the furniture it was found with, for ks_fit_plan */
    double z_mm;          /* of the shelf's top above the chamber floor */
    double post_mm;   /* height of the posts that carry a shelf over it, 0 = the lid is over it */
    double clear_mm;  /* for ware above the shelf's top */
    ks_stand stand;   /* the roomiest, to 0.1 mm; under a shelf to 0.5 mm */
    double around_mm; /* least spare beyond all clearances in plan; negative: short */
    double above_mm;  /* spare beyond the clearance in height; negative: short */
    const char *tightest; /* what it is closest to: "wall", "shelf edge", "post", "sensor", ... */
    bool tight_at_base; /* that is the edge of the shelf, so that its foot or slab is what counts */
    bool tight_for_hand; /* only the hand that sets it in from the front finds no room beside it */
    int shelf;           /* of those it stands on the one that bears least, into kiln.shelves */
    int n_shelves;       /* that it stands on */
    double limit_kg;     /* of that shelf in this firing; infinity = not known, or on the floor */
    double bears_low_kg; /* the same if its material is as weak as it may be */
    double bending;      /* of it on its posts, 0 = on the floor; studio/plate.h */
    double stress_mpa;   /* of it, standing here; 0 = on the floor, or on several side by side */
} ks_fit_way;

/* One firing it goes through. */
typedef struct {
    const char *name;             /* "bisque firing, bare" */
    ks_stage stage;               /* it enters it in */
    const ks_piece *piece;        /* as it enters it */
    double breadth_mm, height_mm; /* then, setter and all */
    bool fits;
    ks_fit_way best;         /* the roomiest of all ways, under the lid */
    ks_fit_way under_shelf;  /* on the shortest posts that leave it room; possible = false: none */
    double beside_mm;        /* diameter of what else of 100 mm height finds room beside it there */
    double error_breadth_mm; /* of its least breadth */
    double error_around_mm, error_above_mm; /* what tape and shrinkage may take from the spare */
    bool passes;                            /* through the doorway, or past the rim */
    double passage_mm;                      /* spare there; infinity where nothing is in the way */
    double error_passage_mm;
} ks_fit_visit;

/* The slab or cookie under it, and its beds. All 0 when there is none. */
typedef struct {
    double now_x_mm, now_y_mm, now_thick_mm; /* as it goes in */
    double wet_low,
        wet_high; /* of the wet sizes, if its clay shrinks as little or as much as it may */
    double wet_x_mm, wet_y_mm, wet_thick_mm; /* to be cut; 0 = its body's bar is not told */
    double
        fired_margin_mm; /* beyond the feet when both have shrunk and parted as far as they may */
    double under_litres, over_litres; /* of loose grog or sand, beds at their told thickness */
    double grog_kg;                   /* of both, at 1.2 kg a litre */
} ks_fit_setting;

/* What carrying it means. Estimates, for caution. */
typedef struct {
    double form_kg, lifted_kg, with_shelf_kg; /* bare; with its setter; with the shelf too */
    double reach_mm;                          /* hands to body that the kiln forces */
    double limit_kg;                          /* recommended at that reach; NIOSH 1993 */
    double team_kg;                           /* and for three people together */
    int lifters;        /* people who may lift the bare form together; 0 = a hoist is needed */
    double hoist_kg;    /* what that has to lift, at least */
    const char *who;    /* the same in words */
    bool lifted_so;     /* the order's rules do not tell that fewer are at hand */
    const char *shelf;  /* id of what it stands on */
    int shelves;        /* side by side */
    double on_shelf_kg; /* its mass weighs, all of it, on each of them */
    double shelf_safe_kg, shelf_limit_kg; /* what that surely bears in this firing, and what no plan
                                           * goes beyond; infinity = not known */
    double shelf_stress_mpa, shelf_allowed_mpa; /* standing here; allowed 0 = not known */
    bool may_sag; /* if its material is as weak as it may be, or since all of it stands here */
    double stands_by_mm;           /* centre of mass within the feet, on a level shelf */
    double stands_tilted_mm;       /* and tilted by 5 degrees; negative: it tips over */
    ks_travel travel, bare_travel; /* on its setter, and straight on the shelf */
} ks_fit_care;

/* What is wrong with a form that has room, the worst first. */
typedef enum {
    KS_FIT_FALLS,
    KS_FIT_BREAKS_SHELF,
    KS_FIT_OUTGROWS_SLAB,
    KS_FIT_TOO_HEAVY,
    KS_FIT_FAULTS
} ks_fit_fault;
/* "falls", "breaks its shelf", "outgrows its slab", "too heavy to lift so". */
const char *ks_fit_fault_name(ks_fit_fault fault);

typedef struct {
    ks_fit_fault fault;
    const char *by; /* by how much */
    ks_reason cure; /* the least that was found to mend it */
} ks_fit_but;

/* Where it is joined, when both are fired, onto another piece: how far its foot then lies within
 * the top of that all round, middle on middle; negative: it reaches beyond. By the spread of both
 * shrinkages. */
typedef struct {
    const char *to; /* id, NULL = it is not */
    double within_mm, low_mm, high_mm;
} ks_fit_joint;

typedef struct {
    int piece; /* into order.pieces */
    const ks_kiln *kiln;
    bool goes_in; /* in every visit there is room, and its way there */
    bool surely;  /* also with all errors against it */
    bool fits;    /* goes in, stands, and what carries it holds */
    int n_buts;
    ks_fit_but buts[KS_FIT_FAULTS]; /* of what goes in, the worst first */
    const char *head; /* "YES", "YES, BUT MEASURE AGAIN", "GOES IN, BUT FALLS", ..., "NO" */
    int n_visits;
    ks_fit_visit *visits;
    int tightest;         /* into visits */
    double largest_scale; /* at which it still goes in, beds and clearances as they are; to 0.1 % */
    double largest_wet_breadth_mm, largest_wet_height_mm; /* form when made; 0 = no bar told */
    double sure_wet_breadth_mm, sure_wet_height_mm; /* also if it shrinks as little as it may */
    const char *verdict;                            /* one sentence */
    const char *margin;  /* of it, by how much: "50 mm around, 20 mm above", "75 mm too wide ..." */
    int n_changes;       /* that were found to let it in when it is no */
    ks_reason *changes;  /* least first; each tried */
    const char *assumed; /* what the order does not tell and is taken as usual, "" nothing */
    ks_fit_joint joint;
    ks_fit_setting setting; /* for its last firing, as is what follows */
    ks_fit_care care;
} ks_fit_answer;

/* What the order's sizes of the piece mean: as it goes into this firing, as every order tells them,
 * or as drawn before. */
typedef enum { KS_DRAWN_NOW, KS_DRAWN_WET, KS_DRAWN_FINISHED } ks_drawn_size;

/* What was worked out of kilns for one question and serves the next. Kilns are known by where they
 * lie in memory: they must stay there, and as they are, for as long. */
typedef struct ks_fit_known ks_fit_known;
ks_fit_known *ks_fit_known_create(ks_arena *arena);

typedef struct {
    ks_fit_known *known;       /* of earlier questions; NULL = each question works out its own */
    double tape_mm, tape_part; /* error of a measured size: the larger of 3 mm and 1 % */
    double board_mm;           /* thickness of the board it is carried on through a doorway, 18 */
    ks_drawn_size drawn;
    int n_below; /* levels of other ware to be under it, and how tall the tallest of each is */
    const double *below_mm;
    double high_mm; /* height of the largest form, 0 = several are tried */
    bool scale;     /* work out largest_scale also when it fits */
    int n_others;   /* kilns to look to when the answer is no */
    const ks_kiln *others;
} ks_fit_options;
/* What holds where nobody tells. */
ks_fit_options ks_fit_default(void);

/* Whether one piece of the order goes into one kiln. The kiln must outlive the answer. */
ks_status ks_fit(const ks_order *order, int piece, const ks_kiln *kiln,
                 const ks_fit_options *options, ks_arena *arena, ks_fit_answer *out, ks_error *err);

/* How large a form of a plain shape may be that is made of a piece's clay, stands on its setter as
 * thick and with as much margin, and goes through its firings. An oval is two thirds as broad as
 * long. */
typedef enum { KS_FOOT_ROUND, KS_FOOT_OVAL, KS_FOOT_SQUARE, KS_FEET } ks_foot_shape;
extern const char *const ks_foot_names[KS_FEET]; /* "round", "oval", "square" */

typedef struct {
    double high_mm;          /* the form alone, as it goes in */
    double wide_mm[KS_FEET]; /* of each foot as wide as the form, at most so; 0 = none goes in */
    double left_above_mm;    /* for other levels over it, their shelves included */
} ks_fit_size;

/* How many heights are tried; and no form worth a firing is narrower or lower than this. */
enum { KS_FIT_SIZES = 4, KS_FIT_LEAST_MM = 40 };
typedef struct {
    const ks_kiln *kiln;
    int n_sizes; /* 0 = nothing goes in so; from the tallest down */
    ks_fit_size sizes[KS_FIT_SIZES];
    double highest_mm; /* of any form, a narrow one; 0 = none goes in */
    double wet;        /* made wet so much of it, even if the clay shrinks as little as it may */
    double fired;      /* and so much when fired, about */
    bool assumed;      /* its clay is not told: 8 to 15 % in all is taken */
} ks_fit_largest;

/* How large, in one kiln; the kiln must outlive the answer. */
ks_status ks_fit_largest_of(const ks_order *order, int piece, const ks_kiln *kiln,
                            const ks_fit_options *options, ks_arena *arena, ks_fit_largest *out,
                            ks_error *err);

/* Length of the wet clay, of what it is at a stage. */
double ks_fit_wet_factor(const ks_clay *clay, ks_stage stage, const char *cone);
/* The same if it shrinks as little as it may: made so, it is surely no larger. */
double ks_fit_sure_wet_factor(const ks_clay *clay, ks_stage stage, const char *cone);

/* The piece made into such a form, for a drawing of it. */
ks_piece ks_fit_form_of(const ks_piece *piece, ks_foot_shape foot, double wide_mm, double high_mm,
                        ks_arena *arena);

/* Whether two pieces can stand on one level of the kiln. False means that no way was found. */
bool ks_fit_together(const ks_order *order, int a, int b, const ks_kiln *kiln, ks_fit_known *known,
                     ks_arena *arena);

/* An order for one load of one kiln: the pieces named, one copy each, must go; of all others as
 * many as are on offer, or none. For asking what still fits, or which go together. */
ks_order *ks_fit_load_order(const ks_order *order, int n, const int *pieces, bool others,
                            const ks_kiln *kiln, ks_arena *arena);

/* The answer's last firing as a plan of one piece at its roomiest stand, to be drawn or checked;
 * NULL when there is no such stand. */
ks_plan *ks_fit_plan(const ks_order *order, const ks_fit_answer *answer, ks_arena *arena);

#ifdef __cplusplus
}
#endif

#endif
