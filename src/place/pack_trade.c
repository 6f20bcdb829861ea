#include "place/pack_strategies.h"

#include <math.h>

/* A move: bodies of the layout that go, kinds that come in their place. */
typedef struct {
    int n_out, out[2];
    int n_in, in[2];
    double gain, growth_mm2; /* of worth, and of what the pieces take from the level */
} trade;

static double size_of(const ks_shelf_search *search, int kind)
{
    return search->kit.kinds[kind].size_mm2;
}

static int some_body(ks_shelf_search *search)
{
    return ks_random_below(&search->random, search->now.n);
}

/* A kind of which one more may come in; -1 when chance finds none. */
static int some_kind(ks_shelf_search *search)
{
    for (int attempt = 0; attempt < 20; attempt++) {
        int k = ks_random_below(&search->random, search->kit.n_kinds);
        if (search->now_count[k] < ks_search_copies(search, k) && search->tabu[k] <= search->moves)
            return k;
    }
    return -1;
}

static void out_added(const ks_shelf_search *search, trade *move, int body)
{
    int kind = search->now.kind[body];
    int same = move->n_out > 0 && search->now.kind[move->out[0]] == kind;
    move->out[move->n_out++] = body;
    move->gain -= ks_search_worth_of_next(search, kind, search->now_count[kind] - 1 - same);
    move->growth_mm2 -= size_of(search, kind);
}

static bool in_added(ks_shelf_search *search, trade *move)
{
    int kind = some_kind(search);
    if (kind < 0)
        return false;
    int same = move->n_in > 0 && move->in[0] == kind;
    if (search->now_count[kind] + same >= ks_search_copies(search, kind))
        return false;
    for (int o = 0; o < move->n_out; o++)
        if (search->now.kind[move->out[o]] == kind)
            return false;
    move->in[move->n_in++] = kind;
    move->gain += ks_search_worth_of_next(search, kind, search->now_count[kind] + same);
    move->growth_mm2 += size_of(search, kind);
    return true;
}

static int nearest_body(const ks_shelf_search *search, int body)
{
    const ks_pile *now = &search->now;
    double least = INFINITY;
    int best = -1;
    for (int j = 0; j < now->n; j++) {
        double dx = now->lie[j].x - now->lie[body].x, dy = now->lie[j].y - now->lie[body].y;
        double d = dx * dx + dy * dy;
        if (j != body && d < least) {
            least = d;
            best = j;
        }
    }
    return best;
}

static bool move_drawn(ks_shelf_search *search, trade *move)
{
    static const struct {
        int out, in;
    } shapes[10] = {{0, 1}, {0, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 1}, {1, 2}, {1, 2}, {2, 1}, {2, 2}};
    int shape = ks_random_below(&search->random, 10);
    *move = (trade){0};
    if (shapes[shape].out > search->now.n)
        return false;
    if (shapes[shape].out > 0)
        out_added(search, move, some_body(search));
    if (shapes[shape].out > 1)
        out_added(search, move, nearest_body(search, move->out[0]));
    for (int k = 0; k < shapes[shape].in; k++)
        if (!in_added(search, move))
            return false;
    return true;
}

/* Of some moves drawn by chance that lose at most `loss`, one that asks for least room. */
static bool move_chosen(ks_shelf_search *search, double loss, trade *best)
{
    enum { WANTED = 3, DRAWN = 60 };
    int found = 0;
    for (int d = 0; d < DRAWN && found < WANTED; d++) {
        trade move;
        search->work += 4;
        if (!move_drawn(search, &move) || move.gain < -loss)
            continue;
        if (found == 0 || move.growth_mm2 < best->growth_mm2)
            *best = move;
        found++;
    }
    return found > 0;
}

/* The trial with the move made: what comes in stands where what goes out stood, or where chance
 * finds it least in the way. */
static bool move_made(ks_shelf_search *search, const trade *move)
{
    enum { SAMPLES = 30 };
    ks_pile *trial = &search->trial;
    ks_point at = {0, 0};
    ks_search_retry(search);
    if (move->n_out > 0)
        at = (ks_point){trial->lie[move->out[0]].x, trial->lie[move->out[0]].y};
    if (move->n_out == 2 && move->out[1] > move->out[0])
        ks_pile_remove(trial, move->out[1]);
    if (move->n_out > 0)
        ks_pile_remove(trial, move->out[0]);
    if (move->n_out == 2 && move->out[1] < move->out[0])
        ks_pile_remove(trial, move->out[1]);
    for (int k = 0; k < move->n_in; k++) {
        if (!ks_search_may_join(search, trial, move->in[k]))
            return false;
        ks_pile_add(trial, move->in[k], (ks_lie){at.x, at.y, 0});
        double within = search->kit.kinds[move->in[k]].reach;
        if (move->n_out > 0)
            ks_search_spot(search, trial->n - 1, at, within, SAMPLES);
        else
            ks_search_spot_anywhere(search, trial->n - 1, SAMPLES);
    }
    return true;
}

static void tabu_set(ks_shelf_search *search, const trade *move)
{
    for (int o = 0; o < move->n_out; o++)
        search->tabu[search->now.kind[move->out[o]]] =
            search->moves + 3 + ks_random_below(&search->random, 8);
}

static void one_trade(ks_shelf_search *search)
{
    trade move;
    double loss = 0.01 * search->best_worth * ks_random_unit(&search->random);
    if (search->now_worth < 0.96 * search->best_worth)
        loss = 0;
    if (!move_chosen(search, loss, &move) || !move_made(search, &move))
        return;
    search->moves++;
    if (!ks_relax_run(&search->relax, (ks_relax_limits){250, 12, 0.6, 0, INFINITY}))
        return;
    tabu_set(search, &move);
    ks_search_take(search);
}

void ks_pack_trade(ks_shelf_search *search, int64_t work)
{
    int64_t end = search->work + work;
    while (search->work < end && !ks_search_over(search)) {
        search->work += 40; /* drawing a move costs too, also when none is found */
        one_trade(search);
    }
}

bool ks_pack_trade_suits(const ks_shelf_search *search)
{
    return true;
}
