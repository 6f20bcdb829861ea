#include "place/search/greedy.h"

#include "place/draft/cone_packs.h"
#include "place/draft/level_wish.h"
#include "place/draft/offer.h"
#include "place/draft/pins.h"

#include <stdlib.h>
#include <string.h>

/* The stack used most that is not yet passed over; NULL when there is none. */
static struct ks_relaxed_stack *stack_most_used(const ks_relaxed *relaxed, int kind)
{
    struct ks_relaxed_stack *best = NULL;
    for (int s = 0; s < relaxed->n_stacks; s++)
        if (relaxed->stacks[s].kind == kind && relaxed->stacks[s].used >= 0 &&
            (!best || relaxed->stacks[s].used > best->used))
            best = &relaxed->stacks[s];
    return best;
}

/* Builds the best stack that has room for its cone packs. */
static const ks_stack *build_stack(const ks_job *job, const ks_relaxed *relaxed, ks_draft *draft,
                                   int slot, ks_arena *arena)
{
    struct ks_relaxed_stack *next;
    while ((next = stack_most_used(relaxed, job->slot_kind[slot])) != NULL) {
        next->used = -1;
        if (next->stack.n_levels == 0)
            continue;
        if (ks_draft_build(job, draft, slot, &next->stack, arena))
            return &next->stack;
    }
    return NULL;
}

/* Levels from the tallest gap down: what is tall has nowhere else to go. */
static void order_levels(const ks_load_kind *kind, const ks_draft_load *load, int *order)
{
    for (int l = 0; l < load->n_levels; l++) {
        int at = l;
        double clear = ks_level_clear_mm(kind, &load->levels[l].at);
        while (at > 0 && ks_level_clear_mm(kind, &load->levels[order[at - 1]].at) < clear) {
            order[at] = order[at - 1];
            at--;
        }
        order[at] = l;
    }
}

typedef struct {
    const ks_greedy *g;
    ks_draft *draft;
    int slot;
    const double *worth;
    ks_arena *arena;
} filling;

static void fill_level(const filling *f, int level, bool warm)
{
    const ks_job *job = f->g->job;
    ks_draft_load *load = &f->draft->loads[f->slot];
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, job->n_items, int),
        *must = KS_TAKE(&scratch, job->n_items, int);
    ks_shelf_layout before = load->levels[level].layout;
    ks_draft_clear_level(job, f->draft, f->slot, level);
    ks_offer_copies(job, f->draft, f->slot, level, copies);
    if (job->cone >= 0)
        must[job->cone] = copies[job->cone];
    ks_fill fill = {
        .job = job,
        .kind = &job->kinds[load->kind],
        .level = &load->levels[level].at,
        .worth = f->worth,
        .copies = copies,
        .must = must,
        .warm = warm ? &before : NULL,
        .n_pins = load->levels[level].n_pins,
        .pins = load->levels[level].pins,
        .mass_left_kg = ks_offer_mass_kg(job, f->draft, f->slot),
        .seed = ks_random_bits(f->g->random),
        .work = f->g->work,
    };
    ks_draft_set_level(job, f->draft, f->slot, level, ks_level_fill(&fill, f->arena));
    ks_arena_finish(&scratch);
}

enum { STACKS_LISTED = 100 };
#define OTHERS_THEN 1e-3

static bool is_must(const ks_job *job, int item)
{
    return item < job->order->n_pieces && job->order->pieces[item].must_go;
}

static bool is_last(const ks_job *job, const int *after)
{
    int n = 0;
    for (int k = 0; k < job->n_kinds; k++)
        n += after[k];
    return n == 0;
}

/* Of one load the stack worth most alone comes first; or as many others before, so that tasks try
 * unlike ones. Of those of its kind one is always left. */
static void rank_alone(const ks_greedy *greedy, const ks_relax_ask *ask, int kind,
                       ks_relaxed *relaxed, ks_arena *arena)
{
    int left = 0;
    ks_relax_list(ask, STACKS_LISTED, relaxed, arena);
    ks_relax_alone(ask, relaxed);
    for (int i = 0; i < relaxed->n_stacks; i++) {
        relaxed->stacks[i].used = relaxed->stacks[i].alone;
        left += relaxed->stacks[i].kind == kind && relaxed->stacks[i].used >= 0;
    }
    for (int passed = 0; passed < greedy->rank && left > 1; passed++, left--)
        stack_most_used(relaxed, kind)->used = -1;
}

typedef struct {
    const ks_greedy *greedy;
    ks_draft *draft;
    int slot;
    bool alone;         /* no load comes after */
    ks_relax_ask ask;   /* needs: what the order keeps somewhere */
    ks_relaxed relaxed; /* its answer */
    ks_arena *arena, *scratch;
} choosing;

static const ks_stack *choose_with(choosing *c, const ks_relax_ask *ask)
{
    const ks_job *job = c->greedy->job;
    c->relaxed = ks_relax(ask, c->scratch);
    if (c->alone)
        rank_alone(c->greedy, ask, job->slot_kind[c->slot], &c->relaxed, c->scratch);
    return ks_stop_is_asked(job->stop) ? NULL
                                       : build_stack(job, &c->relaxed, c->draft, c->slot, c->arena);
}

/* Where wishes can't be met, as if there were none: what is wished for waits then. */
static const ks_stack *choose_stack(choosing *c)
{
    const ks_job *job = c->greedy->job;
    int kind = job->slot_kind[c->slot];
    ks_level_need *needs = NULL;
    c->ask.n_needs = ks_pins_needs(job, c->slot, &needs, c->scratch);
    c->ask.needs = needs;
    if (job->any_wish && !c->greedy->past_wishes) {
        ks_relax_ask ask = c->ask;
        int n = ask.n_needs;
        ks_level_need *all = KS_TAKE(
            c->scratch, n + job->order->n_pieces + job->order->rules.n_no_ware, ks_level_need);
        for (int i = 0; i < n; i++)
            all[i] = needs[i];
        ask.n_needs = n + ks_wish_needs(job, kind, all + n);
        ask.needs = all;
        const ks_stack *stack = choose_with(c, &ask);
        if (stack)
            return stack;
    }
    return choose_with(c, &c->ask);
}

/* What a copy of each item would bring elsewhere: its rent. What is wished for on some levels has
 * nowhere else to go. */
static double *rents(const choosing *c)
{
    const ks_job *job = c->greedy->job;
    const ks_load_kind *kind = &job->kinds[job->slot_kind[c->slot]];
    double *dear = KS_TAKE(c->scratch, job->n_items, double);
    for (int i = 0; i < job->n_items; i++) {
        int h = ks_height_index(job, job->height_mm[i]);
        double rent = ks_item_area_mm2(job, kind, i) * c->relaxed.price_mm2[h];
        bool nowhere = ks_is_wished(job, job->slot_kind[c->slot], i) || rent >= c->ask.worth[i];
        dear[i] = nowhere ? c->ask.worth[i] : rent;
    }
    return dear;
}

static void fill_load(const choosing *c, int n_levels)
{
    const ks_job *job = c->greedy->job;
    int *order = KS_TAKE(c->scratch, n_levels, int);
    order_levels(&job->kinds[job->slot_kind[c->slot]], &c->draft->loads[c->slot], order);
    ks_draft_count(job, c->draft);
    filling f = {c->greedy, c->draft, c->slot, rents(c), c->arena};
    for (int l = 0; l < n_levels; l++)
        fill_level(&f, order[l], false);
    f.worth = c->ask.worth;
    bool lowest_first = ks_job_is_alone(job);
    for (int l = 0; l < n_levels && c->alone; l++)
        fill_level(&f, order[lowest_first ? n_levels - 1 - l : l], true);
    if (!ks_cones_stand(job, &c->draft->loads[c->slot]))
        c->draft->loads[c->slot].n_levels = 0;
}

void ks_greedy_load(const ks_greedy *greedy, ks_draft *draft, int slot, const int *after,
                    ks_arena *arena)
{
    const ks_job *job = greedy->job;
    ks_arena scratch = {0};
    int *loads = KS_TAKE(&scratch, job->n_kinds, int);
    double *full = KS_TAKE(&scratch, job->n_items, double);
    for (int k = 0; k < job->n_kinds; k++)
        loads[k] = after[k] + (job->slot_kind[slot] == k);
    for (int i = 0; i < job->n_items; i++)
        full[i] = job->worth[i] * job->urgency[i] *
                  (greedy->must_first && !is_must(job, i) ? OTHERS_THEN : 1);
    choosing c = {.greedy = greedy,
                  .draft = draft,
                  .slot = slot,
                  .alone = is_last(job, after),
                  .ask = {job, draft->left, full, loads, greedy->density, 0, 0, NULL},
                  .arena = arena,
                  .scratch = &scratch};
    const ks_stack *stack = choose_stack(&c);
    if (stack)
        fill_load(&c, stack->n_levels);
    ks_draft_count(job, draft);
    ks_arena_finish(&scratch);
}

/* Loads that will be built from what this one leaves: of the next few kinds, since each kind that
 * is looked at takes its time and what is far off decides little. */
static void count_after(const ks_job *job, const ks_draft *draft, int slot, int *after)
{
    enum { OTHER_KINDS = 3 };
    int seen = 0;
    memset(after, 0, (size_t)job->n_kinds * sizeof *after);
    for (int s = slot + 1; s < draft->n_loads; s++) {
        int kind = job->slot_kind[s];
        bool other = after[kind] == 0 && kind != job->slot_kind[slot];
        if (draft->loads[s].n_levels > 0 || (other && seen == OTHER_KINDS))
            continue;
        seen += other;
        after[kind]++;
    }
}

void ks_greedy_loads(const ks_greedy *greedy, ks_draft *draft, ks_arena *arena)
{
    const ks_job *job = greedy->job;
    int *after = KS_TAKE(arena, job->n_kinds, int);
    for (int s = 0; s < draft->n_loads; s++) {
        double before = draft->worth;
        if (draft->loads[s].n_levels > 0 || ks_stop_is_asked(job->stop))
            continue;
        count_after(job, draft, s, after);
        ks_greedy_load(greedy, draft, s, after, arena);
        if (ks_draft_is_bare(&draft->loads[s]) || draft->worth <= before) {
            draft->loads[s].n_levels = 0;
            ks_draft_count(greedy->job, draft);
        }
    }
}
