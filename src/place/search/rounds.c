#include "place/search/rounds.h"

#include "place/bound/bound.h"
#include "place/bound/standable.h"
#include "pack/tower/tower_choice.h"
#include "place/draft/alone.h"
#include "place/draft/close_up.h"
#include "place/draft/cone_packs.h"
#include "place/draft/level_wish.h"
#include "place/draft/ranking.h"
#include "place/search/greedy.h"
#include "place/search/workers.h"

/* Of one task of one round, in the packer's units: a hundredth of a second or two. */
enum { WORK = 600, WORK_ALONE = 660 };

void ks_run_init(ks_run *search, ks_job *job, ks_arena *arena)
{
    *search =
        (ks_run){.job = job, .arena = arena, .work = ks_job_is_alone(job) ? WORK_ALONE : WORK};
    ks_item_areas_find(job);
    ks_standable_find(job);
    ks_pool_init(&search->pool, job, arena);
    search->best = ks_draft_empty(job, arena);
    search->price = KS_TAKE(arena, job->n_items, double);
}

ks_random ks_run_random(const ks_run *search, ks_purpose purpose, int task)
{
    return ks_stream(search->job->options.seed, purpose, search->round, task);
}

/* What was made in a hurry may lack cone packs, or half of what it was about to hold. */
static bool is_hurried(const ks_run *search)
{
    return ks_stop_is_asked(search->job->stop);
}

/* Of plans that hold as much, first that in which more stands where it stood. */
static bool is_better(const ks_run *search, const ks_draft *draft)
{
    int ahead = ks_ranking_compare_ware(search->job, draft, &search->best);
    int stayed = ahead ? 0
                       : ks_before_stayed(search->job, &search->before, draft) -
                             ks_before_stayed(search->job, &search->before, &search->best);
    if (ahead || stayed)
        return ahead ? ahead > 0 : stayed > 0;
    return ks_ranking_compare(search->job, draft, &search->best) > 0;
}

void ks_run_set_best(ks_run *search, const ks_draft *draft)
{
    ks_arena scratch = {0}; /* what is tried and not taken */
    ks_draft best = ks_draft_copy(search->job, draft, &scratch);
    ks_wishes_weeded(search->job, &best);
    ks_draft_count(search->job, &best);
    bool stays = search->before.n > 0 || ks_job_keeps_shelves(search->job);
    for (int s = 0; s < best.n_loads && !stays; s++)
        ks_close_up(search->job, &best, s, &scratch);
    search->best = ks_draft_copy(search->job, &best, search->arena);
    ks_arena_finish(&scratch);
    search->found++;
}

/* A level so full that its pack found no place must not be the answer. */
static bool packs_stand(const ks_run *search, const ks_draft *draft)
{
    for (int s = 0; s < draft->n_loads; s++)
        if (!ks_cones_stand(search->job, &draft->loads[s]))
            return false;
    return true;
}

bool ks_run_take(ks_run *search, const ks_draft *draft)
{
    if (is_hurried(search) || !is_better(search, draft) || !packs_stand(search, draft))
        return false;
    ks_run_set_best(search, draft);
    return true;
}

/* What part of a load each item takes, as if ware were liquid and all of it had to go in: by area
 * alone, or by the cells that pieces of unlike kinds take. */
static void find_shares(const ks_job *job, const double *worth, bool cells, double *share)
{
    ks_arena scratch = {0};
    int *copies = KS_TAKE(&scratch, job->n_items, int),
        *loads = KS_TAKE(&scratch, job->n_kinds, int);
    for (int i = 0; i < job->order->n_pieces; i++)
        copies[i] = job->items[i].copies;
    for (int k = 0; k < job->n_kinds; k++)
        loads[k] = 1000000;
    double side_mm2 = cells ? ks_side_price_mm2(job, copies) : 0;
    ks_relax_ask ask = {job, copies, worth, loads, 1, side_mm2, 0, NULL};
    ks_relaxed relaxed = ks_relax(&ask, &scratch);
    for (int i = 0; i < job->order->n_pieces; i++)
        share[i] = ks_item_cell_mm2(job, &job->kinds[0], i, side_mm2) *
                   relaxed.price_mm2[ks_height_index(job, job->height_mm[i])];
    ks_arena_finish(&scratch);
}

/* Any shares prove how many loads are needed. */
static void share_out(ks_run *search)
{
    ks_job *job = search->job;
    double *shares[3];
    for (int cells = 0; cells < 2; cells++) {
        shares[cells] = KS_TAKE(search->arena, job->n_items, double);
        find_shares(job, search->pool.worth, cells == 1, shares[cells]);
    }
    shares[2] = KS_TAKE(search->arena, job->n_items, double);
    ks_bound_volumes(job, shares[2]);
    search->rent = shares[0];
    int fewest = ks_bound_loads(job, 3, shares);
    search->fewest = fewest > 0 ? fewest : search->fewest;
}

typedef struct {
    ks_run *search;
    bool must_first;
    int first_task, made; /* of the tasks, one made already, -1 none */
    ks_arena arenas[KS_TASKS];
    ks_draft drafts[KS_TASKS];
} beginning;

/* Of one load, levels are thought of as filled about as well as they turn out: that gives the best
 * plan of a single try (weekly, three seeds: 76 litres; with the least of all figures 70). */
enum { LIKELIEST = 3 };

static int likeliest_task(const ks_job *job)
{
    return job->n_slots > 1 ? 0 : LIKELIEST;
}

/* The stack that looks best is tried by two of one load's tasks, the next ones by two each: what
 * comes of a first filling is much a matter of luck. */
static int rank_of(int task)
{
    return (task + KS_TASKS - LIKELIEST) % KS_TASKS / 2;
}

/* Towers on rims want few tall levels, nests and piles many low ones, and what a tower brings for
 * its area does not tell which is better: of one load every other task thinks of a job in which
 * nothing stands on a rim, or one piece of a tower at most. Its items are the first of all. */
static ks_job as_thought_of(const ks_job *job, int task)
{
    ks_job lower = *job;
    int rims = task / 2 % 2;
    if (job->n_slots == 1 && task % 2 == 0)
        while (lower.n_items > lower.first_tower &&
               ks_tower_rims(&lower.towers[lower.n_items - 1]) > rims)
            lower.n_items--;
    return lower;
}

/* How dense levels are thought to become decides which levels look best, and nobody knows it
 * beforehand: each task believes in another figure. */
static void begun(void *context, int task)
{
    beginning *b = context;
    task += b->first_task;
    if (task == b->made)
        return;
    ks_job lower = as_thought_of(b->search->job, task), *job = &lower;
    ks_random random =
        ks_run_random(b->search, b->must_first ? KS_FOR_MUST_FIRST : KS_FOR_FIRST_PLAN, task);
    ks_greedy greedy = {.job = job,
                        .density = 0.66 + 0.04 * task,
                        .work = 150,
                        .rank = job->n_slots > 1 ? 0 : rank_of(task),
                        .random = &random,
                        .must_first = b->must_first,
                        .past_wishes = job->n_slots == 1 && task % 2 == 0};
    b->drafts[task] = ks_draft_empty(b->search->job, &b->arenas[task]);
    ks_greedy_loads(&greedy, &b->drafts[task], &b->arenas[task]);
}

static bool must_waits(const ks_run *search)
{
    for (int i = 0; i < search->job->order->n_pieces; i++)
        if (search->job->order->pieces[i].must_go && search->best.left[i] > 0)
            return true;
    return false;
}

static void enter_race(ks_run *search, const ks_draft *draft, bool must_first)
{
    if (search->job->n_slots == 1 && !must_first && draft->n_loads > 0 &&
        draft->loads[0].n_levels > 0)
        search->field[search->n_field++] = ks_draft_copy(search->job, draft, search->arena);
}

/* Tasks from `first` up to `end`; patterns are learnt from all of them in their order. */
static void begin_so(ks_run *search, bool must_first, int first, int end)
{
    beginning b = {.search = search,
                   .must_first = must_first,
                   .first_task = first,
                   .made = search->begun && !must_first ? search->first_task : -1};
    ks_workers_do(search->job->options.threads, end - first, begun, &b);
    if (!search->begun) /* the first plan of all is the best whatever it is */
        ks_run_set_best(search, &b.drafts[first]);
    for (int t = first; t < end && search->begun; t++) {
        const ks_draft *draft = t == b.made ? &search->first : &b.drafts[t];
        ks_pool_learn(&search->pool, draft);
        enter_race(search, draft, must_first);
        ks_run_take(search, draft);
    }
    for (int t = first; t < end; t++)
        ks_arena_finish(&b.arenas[t]);
}

/* Of a first plan that was ended early, the loads that are as they have to be. */
static void drop_unfinished(const ks_job *job, ks_draft *draft)
{
    int pieces;
    for (int s = 0; s < draft->n_loads; s++)
        if (draft->loads[s].n_levels > 0 && ks_alone_faults_of(job, draft, s, &pieces) > 0)
            draft->loads[s].n_levels = 0;
    ks_draft_count(job, draft);
}

/* One plan to have at once; the others of the first round, and all that takes long, follow when it
 * can be handed out. */
static void begin(ks_run *search)
{
    search->first_task = likeliest_task(search->job);
    if (ks_job_keeps_shelves(search->job))
        ks_run_start_from(search);
    else
        begin_so(search, false, search->first_task, search->first_task + 1);
    if (is_hurried(search))
        drop_unfinished(search->job, &search->best);
    search->first = search->best;
    search->begun = true;
    for (int l = 0; l < search->best.n_loads; l++)
        search->fewest = search->best.loads[l].n_levels > 0 ? 1 : search->fewest;
}

bool ks_run_may_end(const ks_run *search)
{
    const ks_place_options *options = &search->job->options;
    return !options->from && !options->export_to && !must_waits(search);
}

static void begin_rest(ks_run *search)
{
    int tasks = search->job->n_slots > 1 ? 1 : KS_TASKS;
    share_out(search);
    if (ks_job_keeps_shelves(search->job))
        return;
    begin_so(search, false, 0, tasks);
    if (must_waits(search) && !is_hurried(search))
        begin_so(search, true, 0, tasks);
    ks_run_share_fairly(search);
    if (search->job->options.from)
        ks_run_start_from(search);
}

bool ks_run_waits(const ks_run *search)
{
    for (int i = 0; i < search->job->order->n_pieces; i++)
        if (search->best.left[i] > 0)
            return true;
    return false;
}

/* Loads alike are planned together, two or three of them as often emptied and built anew one by
 * one; of unlike kilns each has ware of its own, and they are only built anew. */
static void round_of_several(ks_run *search)
{
    int round = search->round;
    if (ks_run_load_by_load(search) || (!ks_run_waits(search) && search->ahead.done))
        return;
    bool one_by_one = search->job->n_kinds > 1 || (search->job->n_slots < 4 && round % 2 == 0);
    if (round % 3 == 0 && ks_run_waits(search))
        ks_run_repair(search);
    else if (one_by_one || !ks_run_joint_loads(search))
        ks_run_ruin_recreate(search);
}

/* For one load patterns are looked for at first, and what is planned on unlike stacks is mended
 * side by side; the best of it is mended to the end. */
static void round_of_one(ks_run *search)
{
    double race = 1.0 / 16, last_mending = ks_job_is_alone(search->job) ? 3.0 / 4 : 5.0 / 8;
    double done = (search->round - 0.5) / search->job->options.rounds;
    if (done < race)
        ks_run_pricing(search);
    else if (done < last_mending)
        ks_run_race(search, (done - race) / (last_mending - race));
    else
        ks_run_repair(search);
}

/* For one load, see above; after every other round the patterns known by then are taken whole. For
 * several, loads are planned together, gathered and repaired by turns. */
void ks_run_round(ks_run *search)
{
    int rounds = search->job->options.rounds, round = search->round;
    if (!search->begun) {
        begin(search);
        return;
    }
    if (round == 0)
        begin_rest(search);
    else if (ks_job_keeps_shelves(search->job))
        ks_run_repair(search);
    else if (search->job->n_slots > 1)
        round_of_several(search);
    else
        round_of_one(search);
    if (search->job->n_slots == 1 && !ks_job_keeps_shelves(search->job) && !is_hurried(search) &&
        round > 0 && round % 2 == rounds % 2)
        ks_run_integer_master(search);
    search->round++;
}
