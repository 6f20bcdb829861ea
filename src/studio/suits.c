#include "kilnstow/order.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* The first reason against a firing is kept. */
typedef struct {
    ks_arena *arena;
    const char **why;
    bool suits;
} verdict;

static void against(verdict *so_far, const char *format, ...) __attribute__((format(printf, 2, 3)));

static void against(verdict *so_far, const char *format, ...)
{
    char words[400];
    if (so_far->suits && so_far->why) {
        va_list args;
        va_start(args, format);
        (void)vsnprintf(words, sizeof words, format, args);
        va_end(args);
        *so_far->why = ks_arena_text(so_far->arena, words);
    }
    so_far->suits = false;
}

static void judge_cones(verdict *so_far, const char *what, const char *low, const char *high,
                        const char *cone)
{
    int rank = ks_cone_rank(cone);
    if (rank < 0)
        return; /* ends by temperature: no cone to judge by */
    if (low && rank < ks_cone_rank(low))
        against(so_far, "%s needs cone %s at least, the firing goes to cone %s", what, low, cone);
    else if (high && rank > ks_cone_rank(high))
        against(so_far, "%s stands cone %s at most, the firing goes to cone %s", what, high, cone);
}

static void judge_atmosphere(verdict *so_far, const char *what, const char *wanted,
                             const char *given)
{
    if (*wanted && strcmp(wanted, given) != 0)
        against(so_far, "%s needs %s, the firing is in %s", what, wanted, given);
}

static void judge_clay(verdict *so_far, const ks_order *order, int clay, const char *noun,
                       const ks_firing *firing)
{
    if (clay < 0)
        return;
    const ks_clay *body = &order->clays[clay];
    const char *what = ks_arena_print(so_far->arena, "the %s \"%s\"", noun, body->id);
    judge_cones(so_far, what, body->cone_low, body->cone_high, firing->cone);
}

static void judge_glaze(verdict *so_far, const ks_glaze *glaze, const ks_firing *firing)
{
    const char *what = ks_arena_print(so_far->arena, "the glaze \"%s\"", glaze->id);
    judge_cones(so_far, what, glaze->cone_low, glaze->cone_high, firing->cone);
    judge_atmosphere(so_far, what, glaze->atmosphere, firing->atmosphere);
}

bool ks_piece_suits(const ks_order *order, const ks_piece *piece, const ks_firing *firing,
                    ks_arena *arena, const char **why)
{
    verdict so_far = {arena, why, true};
    if (piece->stage == KS_LEATHER && !piece->dries_in_kiln && piece->weighed_again_kg > 0)
        against(&so_far, ks_arena_print(arena,
                                        "it is still wet: %.0f g lighter than at the weighing "
                                        "before; weigh it until it loses nothing in a day",
                                        1000 * (piece->weighed_kg - piece->weighed_again_kg)));
    else if (piece->stage == KS_LEATHER && !piece->dries_in_kiln)
        against(&so_far,
                "it is still wet: let it dry first, or tell \"dries_in_kiln\": true and the "
                "firing begins with its drying");
    judge_clay(&so_far, order, piece->clay, "body", firing);
    for (int i = 0; i < piece->n_glazes; i++)
        judge_glaze(&so_far, &order->glazes[piece->glazes[i]], firing);
    if (piece->has_setter)
        judge_clay(&so_far, order, piece->setter.clay, "setter's body", firing);
    judge_cones(&so_far, "the piece", piece->cone_low, piece->cone_high, firing->cone);
    judge_atmosphere(&so_far, "the piece", piece->atmosphere, firing->atmosphere);
    if (*piece->schedule && strcmp(piece->schedule, firing->schedule) != 0)
        against(&so_far, "the piece asks for the schedule \"%s\", the firing has %s%s%s",
                piece->schedule, *firing->schedule ? "\"" : "none of its own", firing->schedule,
                *firing->schedule ? "\"" : "");
    return so_far.suits;
}
