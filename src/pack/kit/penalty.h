/* penalty.h: how badly a pile breaks its clearances, and which way each body should give. */
#ifndef KILNSTOW_PACK_KIT_PENALTY_H
#define KILNSTOW_PACK_KIT_PENALTY_H

#include "pack/kit/packing.h"
#include "pack/kit/separation.h"

/* Which way the strain grows fastest: per mm of a move, and per radian of a turn. */
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
    const ks_pile *pile;
    int n_pairs, pair_room;
    struct ks_pair {
        int i, j;
        bool discs; /* with each other */
        double far; /* of the meetings */
        const ks_meetings *meetings;
    } * pairs;
    double skin_mm;       /* how far bodies may go before the pairs must be listed anew */
    double aim_mm;        /* searched for beyond every need */
    double inset_mm;      /* searched for beyond what walls ask */
    double worst_mm;      /* greatest shortfall of the last strain, aim included */
    ks_pull *pull;        /* of each body */
    double post_pull;     /* per radian of the posts' turn */
    ks_contact *contacts; /* where to list the shortfalls, NULL = nowhere */
    int n_contacts, contact_room;
    int n_hands;
    const struct ks_hand *hands; /* what else is asked of the whole pile: pack_hands.h */
    int64_t *work;               /* pair evaluations so far */
} ks_strain;

void ks_strain_init(ks_strain *strain, const ks_pile *pile, int64_t *work, ks_arena *arena);

/* Lists the pairs that may conflict while no body moves by more than `skin_mm`. */
void ks_strain_list(ks_strain *strain, double skin_mm);

/* The strain of the whole pile; fills worst_mm, pull and post_pull. */
double ks_strain_all(ks_strain *strain);

/* That of body i alone with all others, walls and fixtures; `pull` may be NULL. */
double ks_strain_one(ks_strain *strain, int i, ks_pull *pull);

/* The same, but it may be told too little once it is `enough`. */
double ks_strain_below(ks_strain *strain, int i, double enough);

/* Takes a shortfall of body i, and of j if it is not -1, into pulls and contacts; returns its
 * strain. */
double ks_strain_added(ks_strain *strain, int i, int j, double short_mm,
                       const ks_touch *touch);

/* That of two bodies with each other. */
double ks_strain_pair(ks_strain *strain, const struct ks_pair *pair);

#endif
