/* money.h: what costing needs to be told: tariff, wear, labour, sharing, prices. */
#ifndef KILNSTOW_MONEY_H
#define KILNSTOW_MONEY_H

#include "kilnstow/clock.h"
#include "kilnstow/error.h"
#include "kilnstow/piece.h"
#include "kilnstow/rate.h"

#include <stdbool.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Amounts are whole minor units (cents) wherever someone pays them. On the way there they are fine
 * amounts: millionths of a minor unit, so that 0.31274 a kWh is held exactly and thousands of small
 * items add up without a trace of rounding. */
typedef int64_t ks_fine;
#define KS_FINE ((ks_fine)1000000) /* fine units in a minor unit */

/* A price that holds at certain times. The first that fits a moment counts. */
typedef struct {
    const char *name; /* "night" */
    ks_fine per_kwh;
    ks_window when;
} ks_price_time;

/* A price for the next so many kWh of the billing month. */
typedef struct {
    double up_to_kwh; /* of the month's total; infinity for the last */
    ks_fine per_kwh;
} ks_price_tier;

typedef struct {
    bool told;
    int n_times;
    ks_price_time *times; /* at least one; one that always holds is a flat tariff */
    int n_tiers;
    ks_price_tier *tiers;  /* in place of times: an order tells one or the other */
    double month_kwh;      /* already used this month before the firing, for tiers */
    ks_fine demand_per_kw; /* for the highest quarter of an hour */
    double demand_share;   /* part of the demand charge that one firing answers for, 0 to 1 */
    ks_fine per_firing;    /* fixed */
    double co2_kg_kwh;     /* of the grid; NAN = not told */
} ks_power_tariff;

typedef enum { KS_PER_KWH, KS_PER_M3, KS_PER_THERM, KS_PER_KG } ks_fuel_unit;

typedef struct {
    bool told;
    ks_fine price; /* per unit */
    ks_fuel_unit unit;
    ks_fine per_firing;
} ks_fuel_tariff;

typedef struct {
    const char *cone; /* firings to this cone at the top ... */
    double firings;   /* ... that the thing lasts for */
} ks_life;

/* Whose kilns a thing wears in: elements are only in electric ones, burner tips in gas kilns. */
typedef enum { KS_WEARS_IN_ANY, KS_WEARS_IN_ELECTRIC, KS_WEARS_IN_GAS } ks_wears_in;

/* A thing that wears out: price over life, by the top cone where told for several. */
typedef struct {
    const char *name;
    ks_wears_in heat;
    int64_t price_minor;
    double fitting_s; /* labour to replace it */
    int n_lives;
    ks_life *lives; /* from the coldest cone */
} ks_wearing;

/* A shelf or post: worn out after so many firings, if it has not broken before. */
typedef struct {
    int64_t price_minor;
    double firings;  /* that one lasts, 0 = no wear told */
    double breakage; /* chance to break in a firing */
} ks_furniture_wear;

typedef enum {
    KS_SHARE_BOX,    /* footprint x own height */
    KS_SHARE_SLICES, /* who reaches into a slice of height pays for it */
    KS_SHARE_SHELF,  /* footprint x clear height of its level */
    KS_SHARE_MASS,
    KS_SHARE_COUNT,
    KS_SHARE_SIDES, /* length x width x height of the box around it */
    KS_SHARE_RATE   /* the studio's own list of fees */
} ks_share_rule;

typedef enum { KS_PAID_SPREAD, KS_PAID_STUDIO } ks_payer;

/* Whether each load's bill is shared among its own ware, or all loads' as one: then identical
 * pieces of the whole plan pay the same. The fixed rate takes no notice. */
typedef enum { KS_LOADS_EACH, KS_LOADS_TOGETHER } ks_pool;

/* A line on one member's statement that no load gave rise to: damage, a refire, a credit. */
typedef struct {
    int member; /* into order.members, -1 = the studio */
    const char *what;
    int64_t minor; /* negative = credit */
} ks_extra;

typedef struct ks_money_terms {
    ks_power_tariff power;
    ks_fuel_tariff fuel;
    bool start_told;
    int64_t start_local_min; /* of loads without a day: minutes since 1970-01-01 00:00 on the
                              * studio's clock */

    int n_wearing;
    ks_wearing *wearing;           /* elements, thermocouple, ... charged to each firing */
    ks_fine wash_per_shelf;        /* each shelf used */
    ks_furniture_wear shelf, post; /* each one used */
    int64_t cone_pack_minor;

    bool labour_told; /* what an hour is worth */
    int64_t labour_minor_h;
    double load_s; /* time to load, mind and unload one kiln */
    int n_work;
    ks_piece_work *work; /* of every piece that tells none of its own */
    double losses;       /* fraction of pieces that fail, 0 to < 1 */
    double overhead;     /* fraction on all direct cost */

    ks_share_rule rule;
    ks_payer empty_space, cones;
    ks_pool pool;
    int n_rates; /* for KS_SHARE_RATE */
    ks_rate *rates;
    ks_fine rate_per_litre;   /* the same in short, where there are none: of outline x height */
    int64_t rate_least_minor; /* least charge for a piece at it */
    int n_subscriptions;
    ks_subscription *subscriptions;
    int64_t member_least_minor; /* least charge for a member who has ware in the load */
    double guest_factor;        /* on a guest's share of the firing, 1 = as a member */
    ks_fine earlier_per_kg; /* an earlier firing of a piece, where no log tells; marked default */
    bool earlier_told;
    int n_extras;
    ks_extra *extras;

    double wholesale_factor, retail_factor; /* on cost; retail on wholesale */
    double commission;      /* of a consignment shop, fraction of the selling price */
    double tax;             /* sales tax, fraction */
    bool tax_inside;        /* shop prices include it */
    int64_t round_to_minor; /* prices end on multiples of this, 1 = exact */
} ks_money_terms;

#ifdef __cplusplus
}
#endif

#endif
