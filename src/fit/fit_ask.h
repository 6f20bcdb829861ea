/* fit_ask.h: the question whether a piece fits, and what goes into each of its firings. */
#ifndef KILNSTOW_FIT_FIT_ASK_H
#define KILNSTOW_FIT_FIT_ASK_H

#include "kilnstow/fit.h"

typedef struct {
    const ks_order *order;
    const ks_piece *piece; /* as it goes into this firing */
    const ks_kiln *kiln;
    const ks_fit_options *options;
    ks_fit_known *known;     /* of its kilns */
    const ks_firing *firing; /* it is for */
    const char *cone;        /* of that */
    ks_arena *arena;
    ks_error *err;
} ks_fit_question;

/* The piece as it enters one firing. */
typedef struct {
    const char *name;
    ks_stage stage;
    double factor; /* length then, of what it is now */
    ks_piece piece;
} ks_fit_entry;

enum { KS_FIT_ENTRIES = 2 };

/* Raw ware is bisqued first, bare, and then glazed and fired on its setter; all else, and raw ware
 * that is glazed already, is fired once. How many. */
int ks_fit_entries(const ks_fit_question *q, const ks_piece *piece, ks_fit_entry *out);

/* Whether the piece (the question's, or a changed one) goes through all its firings in the kiln. */
bool ks_fit_try(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln);

/* Spare on its way in. A front loader's doorway has to let its least breadth by, and its height on
 * a board; a top loader's narrower parts above have to let it down. Infinity: nothing in the way.
 */
double ks_fit_passage_mm(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln);

/* All that the answer tells of each firing. */
ks_status ks_fit_visits(const ks_fit_question *q, ks_fit_answer *out);
double ks_fit_spare_mm(const ks_fit_visit *visit);

/* The size at which it just goes in, and what that is when made. */
double ks_fit_largest_scale(const ks_fit_question *q, bool fits);
void ks_fit_built_backwards(const ks_fit_question *q, ks_fit_answer *out);

/* What is wrong with it though it has room: what it stands on at its best stand in its last firing.
 */
void ks_fit_find_buts(const ks_fit_question *q, ks_fit_answer *out);

/* A length in the order's unit, rounded up to a whole millimetre or sixteenth of an inch. */
const char *ks_fit_length_up(const ks_fit_question *q, double mm);

/* The joint to the piece that it is joined to. */
void ks_fit_find_joint(const ks_fit_question *q, ks_fit_joint *out);

/* "YES", "GOES IN, BUT FALLS", ...; passes ks_tr where it is told. */
const char *ks_fit_head(const ks_fit_answer *out);
const char *ks_fit_margin(const ks_fit_question *q, const ks_fit_answer *out);
const char *ks_fit_verdict(const ks_fit_question *q, const ks_fit_answer *out);
void ks_fit_nearest(const ks_fit_question *q, ks_fit_answer *out);

#endif
