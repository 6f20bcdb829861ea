#include "place/search/level_build.h"
#include "place/search/workers.h"

#include <string.h>

/* Levels of a plan laid bare, up to three at a time, and filled again from what they held and what
 * is left. Tasks work on copies, and where there are loads enough each has some of them to itself;
 * what they gain is taken in their fixed order, as long as the levels are untouched and the ware
 * they used is still there. */

enum { LOADS_EACH = 2, LEVELS_MOST = 3 };

/* How much fuller levels beside emptier ones count next to what is placed: where room is together,
 * what waits finds it. */
#define TOGETHER 0.2
#define MORE_LEVELS 0.6  /* part of the tries that lay bare more than one */
#define THREE_LEVELS 0.2 /* three */
#define LATE 10.0        /* nor does anything placed make up for what becomes late */

typedef struct {
    ks_draft draft; /* what became of the task's copy */
    double gain;
    bool *touched; /* of each level of the draft, from the first load's on */
} mended;

typedef struct {
    const ks_run *search;
    int n; /* plans being repaired, by turns a task's; of several each has one load */
    ks_draft *drafts;
    const double *worth; /* what items count; NULL = the draft's own score */
    ks_purpose purpose;  /* of the random numbers */
    int time;
    int n_groups;
    int *group; /* of each load; -1 = not fired */
    ks_arena arenas[KS_TASKS];
    mended done[KS_TASKS];
} repairing;

static double fill_of(const repairing *r, const ks_shelf_layout *layout)
{
    double sum = 0;
    const ks_job *job = r->search->job;
    for (int i = 0; i < layout->n_spots; i++)
        for (int m = 0; m < ks_job_members(job, layout->spots[i].item); m++)
            sum += r->worth[ks_job_member(job, layout->spots[i].item, m)];
    return sum;
}

static double merit(const repairing *r, const ks_draft *draft)
{
    double sum = 0, squares = 0, all = 0;
    int n = 0;
    if (!r->worth)
        return draft->score - LATE * ks_draft_late(r->search->job, draft, r->search->pool.worth);
    for (int i = 0; i < r->search->job->order->n_pieces; i++) {
        sum -= r->worth[i] * draft->left[i];
        all += r->worth[i] * r->search->job->order->pieces[i].count;
    }
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++, n++) {
            double fill = fill_of(r, &draft->loads[s].levels[l].layout);
            squares += fill * fill;
        }
    sum -= LATE * ks_draft_late(r->search->job, draft, r->worth);
    return sum + (all > 0 ? TOGETHER * squares * n / all : 0);
}

static int levels_in_all(const ks_draft *draft)
{
    int n = 0;
    for (int s = 0; s < draft->n_loads; s++)
        n += draft->loads[s].n_levels;
    return n;
}

/* What is one task's to change. */
typedef struct {
    const repairing *r;
    ks_draft *draft;
    ks_random *random;
    ks_arena *arena;
    int n; /* levels */
    struct spot {
        int slot, level, number;
    } * levels;
} workshop;

static double count(const workshop *w)
{
    ks_draft_count(w->r->search->job, w->draft);
    return merit(w->r, w->draft);
}

static workshop workshop_of(const repairing *r, int task, ks_draft *draft, ks_random *random,
                            ks_arena *arena)
{
    workshop w = {r, draft, random, arena, 0, NULL};
    w.levels = KS_TAKE(arena, levels_in_all(draft), struct spot);
    int number = 0;
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++, number++)
            if (r->group[s] == task % r->n_groups)
                w.levels[w.n++] = (struct spot){s, l, number};
    return w;
}

static void fill_again(const workshop *w, const struct spot *at, const ks_shelf_layout *before,
                       double keep_back, int64_t work)
{
    const ks_run *search = w->r->search;
    ks_level_builder b = ks_level_builder_of(search, w->draft, w->random, w->arena);
    b.work = work;
    for (int g = 0; g < search->job->n_items; g++)
        b.worth[g] =
            w->r->worth ? w->r->worth[g] : search->pool.worth[g] - keep_back * search->price[g];
    const ks_shelf_layout *known = ks_build_known(&b, at->slot, at->level);
    bool own = !known || ks_random_unit(w->random) < 0.6;
    ks_build_level(&b, at->slot, at->level, own ? before : known);
}

static double clear_of(const workshop *w, const struct spot *at)
{
    const ks_draft_load *load = &w->draft->loads[at->slot];
    return ks_level_clear_mm(&w->r->search->job->kinds[load->kind], &load->levels[at->level].at);
}

static bool is_among(const struct spot *at, int n, const struct spot *level)
{
    for (int i = 0; i < n; i++)
        if (at[i].number == level->number)
            return true;
    return false;
}

/* How many levels are laid bare. */
static int number_drawn(const workshop *w, bool alone)
{
    double unit = ks_random_unit(w->random);
    int n = unit < THREE_LEVELS && alone ? 3 : unit < MORE_LEVELS ? 2 : 1;
    return n < w->n ? n : w->n;
}

/* In one load the lowest comes first: it can't take the tall ware of the others, while they would
 * take its low ware (weekly: of tries in that order a third gained something, of the others none).
 * In several, low levels elsewhere take low ware too, and any order gains. */
static int levels_drawn(const workshop *w, struct spot *at)
{
    bool alone = ks_job_is_alone(w->r->search->job);
    int wanted = number_drawn(w, alone), n = 0;
    while (n < wanted) {
        struct spot drawn = w->levels[ks_random_below(w->random, w->n)];
        if (is_among(at, n, &drawn))
            continue;
        int k = n++;
        for (; k > 0 && alone && clear_of(w, &drawn) < clear_of(w, &at[k - 1]); k--)
            at[k] = at[k - 1];
        at[k] = drawn;
    }
    return n;
}

/* One change of a few levels, undone when it gains nothing. */
static double changed(const workshop *w, bool *touched)
{
    struct spot at[LEVELS_MOST];
    ks_shelf_layout before[LEVELS_MOST];
    int n = levels_drawn(w, at);
    double was = count(w);
    for (int i = 0; i < n; i++) {
        before[i] = w->draft->loads[at[i].slot].levels[at[i].level].layout;
        ks_draft_clear_level(w->r->search->job, w->draft, at[i].slot, at[i].level);
    }
    for (int i = 0; i < n; i++)
        fill_again(w, &at[i], &before[i], i + 1 < n ? ks_random_unit(w->random) : 0,
                   w->r->search->work / n);
    double gain = count(w) - was;
    for (int i = 0; i < n && gain <= 1e-9; i++)
        ks_draft_clear_level(w->r->search->job, w->draft, at[i].slot, at[i].level);
    for (int i = 0; i < n; i++)
        if (gain <= 1e-9)
            ks_draft_set_level(w->r->search->job, w->draft, at[i].slot, at[i].level, before[i]);
        else
            touched[at[i].number] = true;
    return gain > 1e-9 ? gain : 0;
}

static void repair_one(void *context, int task)
{
    repairing *r = context;
    mended *done = &r->done[task];
    ks_arena *arena = &r->arenas[task];
    ks_random random = ks_stream(r->search->job->options.seed, r->purpose, r->time, task);
    const ks_draft *draft = &r->drafts[task % r->n];
    done->draft = ks_draft_copy(r->search->job, draft, arena);
    done->touched = KS_TAKE(arena, levels_in_all(draft) + 1, bool);
    workshop w = workshop_of(r, task, &done->draft, &random, arena);
    if (w.n > 0)
        done->gain = changed(&w, done->touched);
}

/* The draft with what the task changed; false when a level or ware it used is gone. */
static bool put_changes(const ks_run *search, ks_draft *draft, const mended *done,
                        const bool *touched)
{
    int number = 0;
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++, number++) {
            if (done->touched[number] && touched[number])
                return false;
            if (done->touched[number])
                ks_draft_clear_level(search->job, draft, s, l);
        }
    number = 0;
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels; l++, number++)
            if (done->touched[number])
                ks_draft_set_level(search->job, draft, s, l, done->draft.loads[s].levels[l].layout);
    for (int g = 0; g < search->job->n_items; g++)
        if (g != search->job->cone && draft->left[g] < 0)
            return false;
    for (int s = 0; s < draft->n_loads; s++)
        if (!ks_offer_kept(search->job, draft, s))
            return false;
    ks_draft_count(search->job, draft);
    return true;
}

/* Loads drawn for the groups. */
static void loads_shared_out(repairing *r, const ks_draft *draft, ks_arena *arena)
{
    const ks_job *job = r->search->job;
    ks_random random = ks_stream(job->options.seed, r->purpose, r->time, KS_TASKS);
    int fired = 0, *turn = KS_TAKE(arena, draft->n_loads + 1, int);
    r->group = KS_TAKE(arena, draft->n_loads + 1, int);
    for (int s = 0; s < draft->n_loads; s++) {
        r->group[s] = -1;
        if (draft->loads[s].n_levels == 0)
            continue;
        int at = ks_random_below(&random, ++fired);
        turn[fired - 1] = turn[at];
        turn[at] = s;
    }
    r->n_groups = fired / LOADS_EACH < KS_TASKS ? fired / LOADS_EACH : KS_TASKS;
    r->n_groups = r->n_groups < 2 ? 1 : r->n_groups;
    for (int i = 0; i < fired; i++)
        r->group[turn[i]] = i % r->n_groups;
}

/* What the tasks of one plan have gained, one after another. */
static void take_changes(const repairing *r, int which, int tasks, ks_arena *scratch)
{
    const ks_run *search = r->search;
    ks_draft *draft = &r->drafts[which];
    bool *touched = KS_TAKE(scratch, levels_in_all(draft) + 1, bool);
    ks_draft now = ks_draft_copy(search->job, draft, scratch);
    for (int t = which; t < tasks; t += r->n) {
        const mended *done = &r->done[t];
        ks_draft next = ks_draft_copy(search->job, &now, scratch);
        if (done->gain <= 1e-9 || !put_changes(search, &next, done, touched) ||
            merit(r, &next) <= merit(r, &now) + 1e-9)
            continue;
        for (int l = 0; l < levels_in_all(draft); l++)
            touched[l] = touched[l] || done->touched[l];
        now = next;
    }
    *draft = ks_draft_copy(search->job, &now, search->arena);
}

static void mend_all(ks_run *search, repairing *r)
{
    ks_arena scratch = {0};
    loads_shared_out(r, &r->drafts[0], &scratch);
    int tasks = r->n_groups > 1 ? r->n_groups : KS_TASKS;
    ks_workers_do(search->job->options.threads, tasks, repair_one, r);
    for (int d = 0; d < r->n; d++)
        take_changes(r, d, tasks, &scratch);
    for (int t = 0; t < KS_TASKS; t++)
        ks_arena_finish(&r->arenas[t]);
    ks_arena_finish(&scratch);
}

void ks_run_mend(ks_run *search, ks_draft *draft, const double *worth, ks_purpose purpose, int time)
{
    repairing r = {.search = search,
                   .n = 1,
                   .drafts = draft,
                   .worth = worth,
                   .purpose = purpose,
                   .time = time};
    mend_all(search, &r);
}

void ks_run_mend_several(ks_run *search, int n, ks_draft *drafts)
{
    repairing r = {
        .search = search, .n = n, .drafts = drafts, .purpose = KS_FOR_RACE, .time = search->round};
    mend_all(search, &r);
}

void ks_run_repair(ks_run *search)
{
    ks_draft best = search->best;
    ks_run_mend(search, &best, NULL, KS_FOR_REPAIR, search->round);
    ks_run_take(search, &best);
    ks_pool_learn(&search->pool, &search->best);
}
