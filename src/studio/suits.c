#include "kilnstow/order.h"

#include <string.h>

/* The first reason against a firing is kept. */
typedef struct {
    const ks_firing *firing;
    ks_reason why;
    bool suits;
} verdict;

static void against(verdict *so_far, ks_reason why)
{
    if (so_far->suits)
        so_far->why = why;
    so_far->suits = false;
}

/* What may forbid the firing, with the range of cones that it bears. */
typedef struct {
    ks_reason_of of;
    const char *id;
    const char *low, *high;
} ranged;

static void judge_cones(verdict *so_far, ranged it)
{
    const char *cone = so_far->firing->cone;
    int rank = ks_cone_rank(cone);
    if (rank < 0)
        return; /* ends by temperature: no cone to judge by */
    ks_reason why = {.of = it.of, .id = it.id, .has = cone};
    if (it.low && rank < ks_cone_rank(it.low)) {
        why.name = KS_WHY_CONE_TOO_LOW;
        why.asks = it.low;
        against(so_far, why);
    } else if (it.high && rank > ks_cone_rank(it.high)) {
        why.name = KS_WHY_CONE_TOO_HIGH;
        why.asks = it.high;
        against(so_far, why);
    }
}

static void judge_atmosphere(verdict *so_far, ks_reason_of of, const char *id, const char *wanted)
{
    const char *given = so_far->firing->atmosphere;
    if (*wanted && strcmp(wanted, given) != 0)
        against(so_far, (ks_reason){.name = KS_WHY_ATMOSPHERE,
                                    .of = of,
                                    .id = id,
                                    .atmosphere = wanted,
                                    .fired_in = given});
}

static void judge_clay(verdict *so_far, const ks_order *order, int clay, ks_reason_of of)
{
    if (clay < 0)
        return;
    const ks_clay *body = &order->clays[clay];
    judge_cones(so_far, (ranged){of, body->id, body->cone_low, body->cone_high});
}

static void judge_glaze(verdict *so_far, const ks_glaze *glaze)
{
    judge_cones(so_far, (ranged){KS_OF_GLAZE, glaze->id, glaze->cone_low, glaze->cone_high});
    judge_atmosphere(so_far, KS_OF_GLAZE, glaze->id, glaze->atmosphere);
}

static void judge_wet(verdict *so_far, const ks_piece *piece)
{
    if (piece->stage != KS_LEATHER || piece->dries_in_kiln)
        return;
    if (piece->weighed_again_kg > 0)
        against(so_far, (ks_reason){.name = KS_WHY_STILL_LOSES_WATER,
                                    .lost_kg = piece->weighed_kg - piece->weighed_again_kg});
    else
        against(so_far, (ks_reason){.name = KS_WHY_STILL_WET});
}

static void judge_schedule(verdict *so_far, const char *asks)
{
    const char *has = so_far->firing->schedule;
    if (*asks && strcmp(asks, has) != 0)
        against(so_far, (ks_reason){.name = *has ? KS_WHY_OTHER_SCHEDULE : KS_WHY_NO_SCHEDULE,
                                    .asks = asks,
                                    .has = has});
}

bool ks_piece_suits(const ks_order *order, const ks_piece *piece, const ks_firing *firing,
                    ks_reason *why)
{
    verdict so_far = {.firing = firing, .suits = true};
    judge_wet(&so_far, piece);
    judge_clay(&so_far, order, piece->clay, KS_OF_BODY);
    for (int i = 0; i < piece->n_glazes; i++)
        judge_glaze(&so_far, &order->glazes[piece->glazes[i]]);
    if (piece->has_setter)
        judge_clay(&so_far, order, piece->setter.clay, KS_OF_SETTER);
    judge_cones(&so_far, (ranged){KS_OF_PIECE, NULL, piece->cone_low, piece->cone_high});
    judge_atmosphere(&so_far, KS_OF_PIECE, NULL, piece->atmosphere);
    judge_schedule(&so_far, piece->schedule);
    if (!so_far.suits && why)
        *why = so_far.why;
    return so_far.suits;
}
