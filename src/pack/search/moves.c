#include "pack/search/moves.h"

#include <math.h>

static double size_of(const ks_shelf_search *search, int kind)
{
    return search->instance.kinds[kind].size_mm2;
}

/* A kind of which one more may come in; -1 when chance finds none. */
static int some_kind(ks_shelf_search *search, const int *count)
{
    for (int attempt = 0; attempt < 20; attempt++) {
        int k = ks_random_below(&search->random, search->instance.n_kinds);
        if (count[k] < ks_search_copies(search, k) && search->tabu[k] <= search->moves)
            return k;
    }
    return -1;
}

static void add_out(const ks_shelf_search *search, const ks_moves_from *from, ks_move *move,
                    int body)
{
    int kind = from->packing->kind[body];
    int same = move->n_out > 0 && from->packing->kind[move->out[0]] == kind;
    move->out[move->n_out++] = body;
    move->gain -= ks_search_worth_of_next(search, kind, from->count[kind] - 1 - same);
    move->growth_mm2 -= size_of(search, kind);
}

static bool in_added(ks_shelf_search *search, const ks_moves_from *from, ks_move *move)
{
    int kind = some_kind(search, from->count);
    if (kind < 0)
        return false;
    int same = move->n_in > 0 && move->in[0] == kind;
    if (from->count[kind] + same >= ks_search_copies(search, kind))
        return false;
    for (int o = 0; o < move->n_out; o++)
        if (from->packing->kind[move->out[o]] == kind)
            return false;
    move->in[move->n_in++] = kind;
    move->gain += ks_search_worth_of_next(search, kind, from->count[kind] + same);
    move->growth_mm2 += size_of(search, kind);
    return true;
}

static int nearest_body(const ks_packing *packing, int body)
{
    double least = INFINITY;
    int best = -1;
    for (int j = 0; j < packing->n; j++) {
        double dx = packing->place[j].x - packing->place[body].x,
               dy = packing->place[j].y - packing->place[body].y;
        double d = dx * dx + dy * dy;
        if (j != body && d < least) {
            least = d;
            best = j;
        }
    }
    return best;
}

static bool draw(ks_shelf_search *search, const ks_moves_from *from, ks_move *move)
{
    static const struct {
        int out, in;
    } shapes[10] = {{0, 1}, {0, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 2}, {1, 2}, {2, 1}, {2, 2}};
    int shape = ks_random_below(&search->random, 10);
    *move = (ks_move){0};
    if (shapes[shape].out > from->packing->n)
        return false;
    if (shapes[shape].out > 0)
        add_out(search, from, move, ks_random_below(&search->random, from->packing->n));
    if (shapes[shape].out > 1)
        add_out(search, from, move, nearest_body(from->packing, move->out[0]));
    for (int k = 0; k < shapes[shape].in; k++)
        if (!in_added(search, from, move))
            return false;
    return true;
}

bool ks_move_choose(ks_shelf_search *search, const ks_moves_from *from, ks_move *best)
{
    enum { WANTED = 3, DRAWN = 60 };
    int found = 0;
    for (int d = 0; d < DRAWN && found < WANTED; d++) {
        ks_move move;
        search->work += 4;
        if (!draw(search, from, &move) || move.gain < from->least_gain ||
            move.gain > from->most_gain)
            continue;
        if (found == 0 || move.growth_mm2 < best->growth_mm2)
            *best = move;
        found++;
    }
    return found > 0;
}

/* Out of the trial, the last numbers first, as the last body takes the number of what goes. */
static void taken_out(ks_packing *trial, const ks_move *move)
{
    if (move->n_out == 2 && move->out[1] > move->out[0])
        ks_packing_remove(trial, move->out[1]);
    if (move->n_out > 0)
        ks_packing_remove(trial, move->out[0]);
    if (move->n_out == 2 && move->out[1] < move->out[0])
        ks_packing_remove(trial, move->out[1]);
}

bool ks_move_make(ks_shelf_search *search, const ks_move *move)
{
    enum { NEAR = 12, ANYWHERE = 30 };
    ks_packing *trial = &search->trial;
    ks_placement at = move->n_out > 0 ? trial->place[move->out[0]] : (ks_placement){0, 0, 0};
    taken_out(trial, move);
    for (int k = 0; k < move->n_in; k++) {
        if (!ks_search_may_join(search, trial, move->in[k]))
            return false;
        ks_packing_add(trial, move->in[k], at);
        double within = search->instance.kinds[move->in[k]].reach;
        if (move->n_out > 0)
            ks_search_spot(search, trial->n - 1, (ks_point){at.x, at.y}, within, NEAR);
        else
            ks_search_spot_anywhere(search, trial->n - 1, ANYWHERE);
    }
    return true;
}

void ks_move_barred(ks_shelf_search *search, const ks_packing *packing, const ks_move *move)
{
    for (int o = 0; o < move->n_out; o++)
        search->tabu[packing->kind[move->out[o]]] =
            search->moves + 3 + ks_random_below(&search->random, 8);
}
