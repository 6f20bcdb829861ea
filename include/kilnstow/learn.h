/* learn.h: what the studio's record teaches: a kiln's own factors, its hot and cold places, who
 * owes what, and whose ware waits. */
#ifndef KILNSTOW_LEARN_H
#define KILNSTOW_LEARN_H

#include "kilnstow/book.h"
#include "kilnstow/cost.h"

#ifdef __cplusplus
extern "C" {
#endif

/* A kiln tuned to its own meter, by the last of its firings that have a reading. */
enum { KS_LEARNT_FROM = 12 };
typedef struct {
    const char *kiln;
    int n;        /* firings that went in */
    int *entries; /* their numbers, by start */
    int unread;   /* firings of this kiln without a meter's reading */
    ks_tuning tuning;
    double drift, drift_sd; /* by which a firing's draw rises from one to the next beyond what the
                               model says, as a fraction, and one sigma; NAN below five */
    int n_warnings;
    const char **warnings;
} ks_learnt;

/* n is 0 where the record has no metered firing of that kiln: then nothing is learnt. */
ks_status ks_book_learn(ks_book *book, const char *kiln, ks_arena *arena, ks_learnt *out,
                        ks_error *err);
/* KS_BAD_USAGE: that it is so, and which kilns the record does know. */
ks_status ks_book_nothing_learnt(ks_book *book, const char *kiln, ks_arena *arena, ks_error *err);

/* A kiln as the record knows it, put into the options of a firing; as they are where n is 0. */
void ks_learnt_apply(const ks_learnt *learnt, ks_fire_options *options);

/* The cones seen at one place, against the mean of their firing. */
typedef struct {
    const char *height; /* "bottom", "middle", "top": thirds of the chamber */
    const char *side;   /* as logged, "" = none told */
    int n;              /* cones seen there */
    double warmer_k;    /* mean, at 60 K/h */
    double sigma_k;     /* of that mean; half of what a cone bends over where one was seen */
} ks_map_place;

typedef struct {
    int firings; /* with cones at two places or more */
    int n;
    ks_map_place *places; /* from below */
} ks_kiln_map;
/* The places of a kiln from below; none where too few cones were seen. */
ks_status ks_book_map(ks_book *book, const char *kiln, ks_arena *arena, ks_kiln_map *out,
                      ks_error *err);

/* What ware was lost in the record's firings, and by what it went: kind, glaze, owner, third of the
 * chamber. Each value of these has its own factor on the studio's rate, all found together, so that
 * what one explains is not counted again for another. */
enum { KS_LOST_BY_KIND, KS_LOST_BY_GLAZE, KS_LOST_BY_OWNER, KS_LOST_BY_THIRD, KS_LOST_BY };
typedef struct {
    const char *value; /* "" = none: no glaze, the studio's own */
    int copies;        /* fired */
    double lost; /* of them; a loss whose place was not told is spread over where the kind stood */
    double factor; /* on the studio's rate, drawn towards 1 where little was fired */
    double sigma;  /* of the factor */
} ks_loss_part;

typedef struct {
    int firings, copies; /* that tell what went in */
    double lost;
    double rate; /* of all ware */
    int n[KS_LOST_BY];
    ks_loss_part *parts[KS_LOST_BY]; /* by value */
} ks_losses;
/* copies is 0 where no entry tells what went in. */
ks_status ks_book_losses(ks_book *book, ks_arena *arena, ks_losses *out, ks_error *err);

/* The part of such ware that is to be expected lost, 0 to 0.95; what the record does not know
 * counts as usual. */
double ks_losses_rate(const ks_losses *losses, const char *const values[KS_LOST_BY]);

/* A member's account: what was charged and paid, by day. */
typedef struct {
    const char *day;
    int entry; /* of firings, or of payments */
    bool payment;
    const char *what; /* the firing's title and kiln, or the payment's note */
    int pieces;
    int64_t minor;   /* charged: above 0, paid: below */
    int64_t balance; /* owed after this line */
} ks_account_line;

typedef struct {
    const char *member, *name; /* "" is the studio */
    const char *currency;      /* one account for each */
    int digits;
    int64_t before; /* owed before the first line */
    int n;
    ks_account_line *lines;
    int64_t owed; /* after the last */
} ks_account;
/* Of all members, or of one by id or name; by name. KS_BAD_USAGE for a member the record has not.
 */
ks_status ks_book_accounts(ks_book *book, const char *member, const char *from, const char *to,
                           ks_arena *arena, int *n, ks_account **out, ks_error *err);

/* What waits, by the last plan that was fired for each kiln. */
typedef struct {
    const char *member, *piece, *name, *why;
    int copies;
    int times; /* plans in a row that left it out */
    const char *since;
} ks_waiting_ware;
/* In the order of that plan; none while the record is empty. */
ks_status ks_book_waiting(ks_book *book, ks_arena *arena, int *n, ks_waiting_ware **out,
                          ks_error *err);

/* What this load's firing costs by its meter, and each member's part: fills bill, currency and
 * charges. `fired` is the load as simulated. Without terms of cost in the plan's order nothing is
 * billed. Lines that no load gave rise to (damage, credits) go with load 1. */
ks_status ks_book_bill(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena,
                       ks_book_firing *firing, ks_error *err);

/* What a reading in this unit is in kWh of the fuel of the load so simulated: "kWh", or for gas
 * "m3" or "kg" (of propane). KS_BAD_USAGE where the kiln is not metered so. */
ks_status ks_book_meter_kwh(const ks_firing_result *fired, const char *unit, double used,
                            double *kwh, ks_error *err);

#ifdef __cplusplus
}
#endif

#endif
