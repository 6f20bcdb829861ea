/* rate.h: what a studio posts on its wall: fees for firing ware, and flat subscriptions. */
#ifndef KILNSTOW_RATE_H
#define KILNSTOW_RATE_H

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* What a piece is measured by; the price is for one of these. */
typedef enum {
    KS_RATE_LITRE,
    KS_RATE_CUBIC_INCH,
    KS_RATE_KG,
    KS_RATE_LB,
    KS_RATE_PIECE,
    KS_RATE_SHELF,     /* part of a whole shelf that its length x width takes */
    KS_RATE_HALF_SHELF /* the same, of half a shelf */
} ks_rate_unit;

/* The box of litres and cubic inches. */
typedef enum {
    KS_RATE_BY_SIDES,  /* length x width x height of the box around the piece */
    KS_RATE_BY_OUTLINE /* area seen from above x height */
} ks_rate_box;

/* A size of ware, and what a piece of it pays. */
typedef struct {
    double up_to;      /* in the rate's unit; NAN = however much */
    double longest_mm; /* no side is longer; NAN = however long */
    int64_t price_minor;
} ks_size_tier;

/* One line of the list. The first that holds for the firing of a piece is its. */
typedef struct {
    const char *name; /* "bisque", "" = none */
    int n_firings;
    int *firings; /* into order.firings; none = it holds for all */
    ks_rate_unit per;
    ks_rate_box box;
    int64_t price;      /* ks_fine, of one unit */
    int64_t half_minor; /* of half a shelf; -1 = none: shelves are charged whole */
    double round_up_mm; /* each side goes up to a multiple of it, 0 = as it is */
    int n_tiers;
    ks_size_tier *tiers; /* in place of the price: for a piece, by its size; the last is for all */
    int64_t least_minor; /* for a piece */
} ks_rate;

/* Firings paid by a flat fee. */
typedef struct {
    const char *id, *name;
    int64_t fee_minor; /* on each statement with ware on it; 0 = paid elsewhere */
    double included;   /* in the unit that firings are shared or charged by; NAN = all */
} ks_subscription;

#ifdef __cplusplus
}
#endif

#endif
