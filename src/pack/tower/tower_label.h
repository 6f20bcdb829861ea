/* tower_label.h: a tower in the making, and what may come on top of it. */
#ifndef KILNSTOW_PACK_TOWER_TOWER_LABEL_H
#define KILNSTOW_PACK_TOWER_TOWER_LABEL_H

#include "pack/tower/stance.h"
#include "pack/tower/tower.h"

enum { KS_TOWER_MOST = 64 }; /* pieces in one, far beyond what the rules let stand */

/* What stands on it decides how it goes on; the rest decides which of those alike are kept. */
typedef struct {
    int n, base, top; /* pieces; stances */
    ks_way way;       /* how the top stands, and how many stand so in one go, itself included */
    int run;
    int rims; /* pieces on rims of one another, in all */
    double worth, height_mm, bears_kg, reach_mm;
    int stances[KS_TOWER_MOST];
    ks_way ways[KS_TOWER_MOST];
    double lifts[KS_TOWER_MOST];
} ks_tower_label;

/* The stances of an order's ware, and how high each stands on each. */
typedef struct {
    const ks_order *order;
    ks_arena *arena, *out;
    double tallest_mm;
    int n_stances;
    ks_stance *stances;
    double *rises; /* [lower * n + upper]; < 0 not yet worked out */
} ks_labels;

ks_labels ks_labels_of(const ks_order *order, double tallest_mm, ks_arena *arena);

/* A tower of this one; false where it may not stand at the bottom of one. */
bool ks_label_begun(const ks_labels *all, int stance, ks_tower_label *out);

/* The label with one more on top; false where a rule forbids it. */
bool ks_label_grown(const ks_labels *all, const ks_tower_label *from, int stance,
                    ks_tower_label *out);

bool ks_label_is_same(const ks_tower_label *a,
                      const ks_tower_label *b); /* of the same pieces, whatever order */
int ks_label_base(const ks_labels *all, const ks_tower_label *label);
ks_tower ks_label_tower(const ks_labels *all, const ks_tower_label *label);

/* Rows of tiles on edge, of unlike lengths. How many. */
int ks_rows_on_edge(const ks_order *order, double longest_mm, double tallest_mm, int most,
                    ks_arena *arena, ks_tower *out);

#endif
