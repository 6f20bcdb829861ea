/* penalty.h: how badly a packing breaks its clearances, and which way each body should give. */
#ifndef KILNSTOW_PACK_INSTANCE_PENALTY_H
#define KILNSTOW_PACK_INSTANCE_PENALTY_H

#include "pack/instance/packing.h"
#include "pack/instance/nearest.h"

/* Which way the penalty grows fastest: per mm of a move, and per radian of a turn. */
typedef struct {
    double x, y, turn;
} ks_pull;

/* One shortfall, and how it grows with the moves of what takes part in it; j = -1: not a body. */
typedef struct {
    int i, j;
    double short_mm;
    ks_pull of_i, of_j;
    double of_posts;
} ks_contact;

/* Sum of squared shortfalls, mm^2, over the pairs listed and all walls and fixtures. */
typedef struct {
    const ks_packing *packing;
    int n_pairs, pair_room;
    struct ks_pair {
        int i, j;
        bool discs; /* with each other */
        double far; /* of the meetings */
        const ks_separations *meetings;
    } * pairs;
    double skin_mm;       /* how far bodies may go before the pairs must be listed anew */
    double aim_mm;        /* searched for beyond every need */
    double inset_mm;      /* searched for beyond what walls ask */
    double worst_mm;      /* greatest shortfall of the last penalty, aim included */
    ks_pull *pull;        /* of each body */
    double post_pull;     /* per radian of the posts' turn */
    ks_contact *contacts; /* where to list the shortfalls, NULL = nowhere */
    int n_contacts, contact_room;
    int n_hands;
    const struct ks_hand *hands; /* what else is asked of the whole packing: hand_room.h */
    int64_t *work;               /* pair evaluations so far */
} ks_penalty;

void ks_penalty_init(ks_penalty *penalty, const ks_packing *packing, int64_t *work,
                     ks_arena *arena);

/* Lists the pairs that may conflict while no body moves by more than `skin_mm`. */
void ks_penalty_list(ks_penalty *penalty, double skin_mm);

/* The penalty of the whole packing; fills worst_mm, pull and post_pull. */
double ks_penalty_all(ks_penalty *penalty);

/* That of body i alone with all others, walls and fixtures; `pull` may be NULL. */
double ks_penalty_one(ks_penalty *penalty, int i, ks_pull *pull);

/* The same, but it may be told too little once it is `enough`. */
double ks_penalty_below(ks_penalty *penalty, int i, double enough);

/* Takes a shortfall of body i, and of j if it is not -1, into pulls and contacts; returns its
 * penalty. */
double ks_penalty_add(ks_penalty *penalty, int i, int j, double short_mm,
                      const ks_nearest_places *touch);

/* That of two bodies with each other. */
double ks_penalty_pair(ks_penalty *penalty, const struct ks_pair *pair);

/* What stands beside a large piece is to be so far to its right (way 1) or left (-1), or wholly in
 * front of it or behind it. */
struct ks_hand {
    int piece, other; /* bodies of the packing; other -1: what lies at `there` and stays */
    int way;
    double need_mm;
    ks_box there;
};

/* The penalty of all that the penalty lists; adds to its pulls. */
double ks_penalty_hands(ks_penalty *penalty);

/* How much is short: aside, or in depth where that is less. */
double ks_hand_short_mm(ks_box piece, ks_box other, int way, double need_mm);

#endif
