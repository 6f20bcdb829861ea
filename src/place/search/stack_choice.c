#include "place/search/stack_choice.h"

#include "place/draft/pins.h"
#include "place/search/greedy.h"
#include "place/bound/relaxation.h"

/* Load by load, the first loads take the levels that suit them and the last ones what remains. Here
 * the stacks of all loads are chosen together. Ware of each height or more must find area on levels
 * at least so high (and when it does for every height, liquid ware fits): so how dense the levels
 * must become is the greatest ratio of area needed to area there. Stacks that the relaxation
 * thought of are exchange, by chance at first, until none brings it down. */

enum { TRIES = 20000, KINDS_OF_HOPE = 5 };
#define DENSITY 0.82 /* at which the first stacks are thought of */
#define NOTHING_THERE 10.0

typedef struct {
    const ks_choice *choice;
    int n_heights;
    double *needed; /* [height]: area of the ware so high or higher */
    int n;          /* candidates */
    struct ks_relaxed_stack *stacks;
    double **there; /* of each candidate, [height]: area of its levels so high or higher */
    int *free;      /* slots of each kind that no chosen stack takes */
    int n_chosen;
    int *chosen; /* candidates */
    double *sum; /* [height]: area of all chosen */
} choosing;

static void summed_from_above(double *by_height, int n)
{
    for (int h = n - 2; h >= 0; h--)
        by_height[h] += by_height[h + 1];
}

static void add_candidates(choosing *c, const ks_relaxed *relaxed, double density)
{
    for (int s = 0; s < relaxed->n_stacks; s++) {
        for (int h = 0; h < c->n_heights; h++)
            relaxed->stacks[s].area_mm2[h] /= density;
        summed_from_above(relaxed->stacks[s].area_mm2, c->n_heights);
        c->there[c->n] = relaxed->stacks[s].area_mm2;
        c->stacks[c->n++] = relaxed->stacks[s];
    }
}

/* So steep that the greatest ratio outweighs all the others, and yet those next to it count. */
static double sharpened(double x)
{
    for (int i = 0; i < 6; i++)
        x *= x;
    return x;
}

/* How ill the chosen stacks suit the ware, were candidate `out` (-1 = none) changed for `in`. */
static double penalty_with(const choosing *c, int out, int in)
{
    double sum = 0;
    for (int h = 0; h < c->n_heights; h++) {
        double area =
            c->sum[h] + (in >= 0 ? c->there[in][h] : 0) - (out >= 0 ? c->there[out][h] : 0);
        if (c->needed[h] > 0)
            sum += sharpened(c->needed[h] < NOTHING_THERE * area ? c->needed[h] / area
                                                                 : NOTHING_THERE);
    }
    return sum;
}

static void put(choosing *c, int candidate, int sign)
{
    c->free[c->stacks[candidate].kind] -= sign;
    for (int h = 0; h < c->n_heights; h++)
        c->sum[h] += sign * c->there[candidate][h];
}

/* One after another, each the best beside those there are. */
static void chosen_first(choosing *c)
{
    while (c->n_chosen < c->choice->loads) {
        int best = -1;
        double least = 0;
        for (int i = 0; i < c->n; i++) {
            if (c->free[c->stacks[i].kind] <= 0)
                continue;
            double strain = penalty_with(c, -1, i);
            if (best < 0 || strain < least) {
                best = i;
                least = strain;
            }
        }
        if (best < 0)
            return;
        put(c, best, 1);
        c->chosen[c->n_chosen++] = best;
    }
}

/* Exchanges by chance; a loss is taken now and then, less and less. */
static void exchange(choosing *c)
{
    double now = penalty_with(c, -1, -1);
    for (int t = 0; t < TRIES && c->n_chosen > 0; t++) {
        int at = ks_random_below(c->choice->random, c->n_chosen);
        int out = c->chosen[at], in = ks_random_below(c->choice->random, c->n);
        int kind = c->stacks[in].kind;
        if (in == out || (c->free[kind] <= 0 && kind != c->stacks[out].kind))
            continue;
        double next = penalty_with(c, out, in);
        double loss = 1.0 * (TRIES * 0.8 - t) / TRIES * ks_random_unit(c->choice->random);
        if (next > now * (1 + (loss > 0 ? loss : 0)))
            continue;
        put(c, out, -1);
        put(c, in, 1);
        c->chosen[at] = in;
        now = next;
    }
}

static double density_needed(const choosing *c)
{
    double most = 0;
    for (int h = 0; h < c->n_heights; h++)
        if (c->needed[h] > most * c->sum[h])
            most = c->sum[h] > 0 ? c->needed[h] / c->sum[h] : NOTHING_THERE;
    return most;
}

static void build(const choosing *c, ks_draft *draft, ks_arena *arena)
{
    const ks_job *job = c->choice->job;
    bool *used = KS_TAKE(arena, draft->n_loads, bool);
    for (int i = 0; i < c->n_chosen; i++) {
        const struct ks_relaxed_stack *stack = &c->stacks[c->chosen[i]];
        int s = 0;
        while (used[s] || !c->choice->open[s] || job->slot_kind[s] != stack->kind)
            s++;
        used[s] = true;
        ks_draft_build(job, draft, s, &stack->stack, arena);
    }
    ks_draft_count(job, draft);
}

/* What the relaxation wants in, by height, and its stacks; then those it thinks of when levels get
 * less dense or denser. */
static void begin(choosing *c, const int *loads, double *rent, ks_arena *arena)
{
    static const double densities[KINDS_OF_HOPE] = {DENSITY, 0.9 * DENSITY, 1.1 * DENSITY,
                                                    0.95 * DENSITY, 1.05 * DENSITY};
    const ks_job *job = c->choice->job;
    int most = KINDS_OF_HOPE * (KS_STACKS_TRIED + 1) * job->n_kinds;
    c->stacks = KS_TAKE(arena, most, struct ks_relaxed_stack);
    c->there = KS_TAKE(arena, most, double *);
    for (int i = 0; i < KINDS_OF_HOPE; i++) {
        ks_relax_ask ask = {job, c->choice->copies, c->choice->worth, loads, densities[i], 0, 0,
                            NULL};
        ks_relaxed relaxed = ks_relax(&ask, arena);
        for (int g = 0; g < job->n_items && i == 0; g++) {
            int h = ks_height_index(job, job->height_mm[g]);
            double area = ks_item_area_mm2(job, &job->kinds[0], g);
            c->needed[h] += relaxed.taken[g] * area;
            rent[g] = relaxed.price_mm2[h] * area;
        }
        add_candidates(c, &relaxed, densities[i]);
    }
    summed_from_above(c->needed, c->n_heights);
}

double ks_choose_stacks(const ks_choice *choice, ks_draft *draft, double *rent, ks_arena *arena)
{
    const ks_job *job = choice->job;
    ks_arena scratch = {0};
    int n = job->n_heights, *loads = KS_TAKE(&scratch, job->n_kinds, int);
    for (int s = 0; s < job->n_slots; s++)
        loads[job->slot_kind[s]] += choice->open[s];
    choosing c = {.choice = choice, .n_heights = n, .needed = KS_TAKE(&scratch, n, double)};
    c.sum = KS_TAKE(&scratch, n, double);
    c.chosen = KS_TAKE(&scratch, choice->loads, int);
    c.free = KS_TAKE(&scratch, job->n_kinds, int);
    begin(&c, loads, rent, &scratch);
    for (int k = 0; k < job->n_kinds; k++)
        c.free[k] = loads[k];
    chosen_first(&c);
    exchange(&c);
    build(&c, draft, arena);
    double density = c.n_chosen > 0 ? density_needed(&c) : 0;
    ks_arena_finish(&scratch);
    return density;
}
