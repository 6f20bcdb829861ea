#include "place/finish/placing.h"

#include "base/version.h"
#include "place/draft/close_up.h"
#include "place/draft/draft_plan.h"
#include "place/draft/draft_settled.h"
#include "place/bound/bound.h"
#include "place/finish/change.h"
#include "place/finish/filling.h"
#include "place/finish/leftover.h"
#include "place/search/rounds.h"
#include "place/finish/tidy.h"

#include <math.h>
#include <stdlib.h>

struct ks_placing {
    ks_arena arena;
    ks_job job;
    ks_run run;
    bool compares; /* with what could be had were shelves not kept: */
    ks_job free_job;
    ks_run free_run;
    ks_bound bound;
    bool fills;         /* some ware goes in as far as there is room */
    bool filling_begun; /* counted ware is planned as well as can be, the rest is being put in */
    ks_filling filling;
    struct {
        ks_arena arena;
        ks_draft draft;
        int of; /* which of the plans found, 0 = none */
    } topped;   /* a plan of the counted ware, with what fills in the room that it leaves */
    struct {
        ks_arena arena;
        ks_draft draft;
        int of; /* which plan, as best_number() tells */
    } tidied;   /* the best, as it is handed out */
    int handed; /* which of the plans found was handed out last, 0 = none */
    int stayed; /* pieces, in that one */
    ks_stop stop;
};

/* The same question with shelves wherever they are best, put beside. */
static void compare_with_free(ks_placing *p)
{
    p->compares = ks_job_keeps_shelves(&p->job);
    p->free_job = p->job;
    p->free_job.options.keep_shelves = false;
    p->free_job.options.from = NULL;
    if (p->compares)
        ks_run_init(&p->free_run, &p->free_job, &p->arena);
}

ks_status ks_placing_create(const ks_order *order, const ks_place_options *options,
                            ks_placing **out, ks_error *err)
{
    ks_placing *p = calloc(1, sizeof *p);
    *out = NULL;
    if (!p)
        return ks_fail(err, KS_SYSTEM, "no memory to plan with");
    ks_status status = ks_job_init(&p->job, order, options, &p->arena, err);
    if (status != KS_OK) {
        ks_placing_destroy(p);
        return status;
    }
    p->job.stop = &p->stop;
    ks_run_init(&p->run, &p->job, &p->arena);
    p->bound = ks_bound_wanted(&p->job);
    compare_with_free(p);
    p->fills = ks_job_fills(&p->job);
    *out = p;
    return KS_OK;
}

/* Of counted ware, or of what fills. */
static int pieces_in(const ks_job *job, const ks_draft_load *load, bool fill)
{
    int n = 0;
    for (int l = 0; l < load->n_levels; l++) {
        const ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < level->layout.n_spots; i++) {
            int item = level->layout.spots[i].item;
            for (int m = 0; m < ks_job_members(job, item) && item != job->cone; m++)
                n += ks_job_is_fill(job, ks_job_member(job, item, m)) == fill;
        }
        for (int i = 0; i < level->n_pins && !fill; i++)
            n += level->pins[i].item != job->cone ? ks_job_members(job, level->pins[i].item) : 0;
    }
    return n;
}

/* Nothing can be better: all that the bound allows is placed, in time, in as few loads as can be;
 * and what one fewer would hold is known. */
static bool is_proven(const ks_placing *p)
{
    return p->run.best.worth >= p->bound.value * (1 - 2e-9) &&
           ks_draft_fired(&p->run.best) <= p->run.fewest && ks_run_fewer_is_known(&p->run) &&
           !(ks_draft_late(&p->job, &p->run.best, p->job.worth) > 0);
}

/* Rounds of filling for each round of planning what is counted; where nothing is, all of them. */
static int rounds_of_filling(const ks_placing *p)
{
    int rounds = p->job.options.rounds;
    return !p->fills ? 0 : p->bound.value > 0 ? (rounds + 1) / 2 : rounds;
}

/* Kept until a better one is found, since it takes a while. */
static const ks_draft *topped_best(ks_placing *p)
{
    bool hurried = ks_stop_is_asked(&p->stop);
    ks_filling filling;
    if (p->topped.of == p->run.found)
        return &p->topped.draft;
    ks_arena_finish(&p->topped.arena);
    ks_draft best = ks_run_best(&p->run, &p->topped.arena);
    ks_draft_settle(&p->job, &best);
    ks_filling_begin(&filling, &p->job, &best, 0, &p->topped.arena);
    p->topped.draft =
        filling.fill.alone ? best : ks_filling_best(&filling, &p->job, &p->topped.arena);
    p->topped.of = hurried || ks_stop_is_asked(&p->stop) ? 0 : p->run.found;
    return &p->topped.draft;
}

static ks_draft best_draft(ks_placing *p, ks_arena *arena)
{
    if (!p->fills)
        return ks_run_best(&p->run, arena);
    if (p->filling_begun && p->filling.run.found > 0)
        return ks_filling_best(&p->filling, &p->job, arena);
    return ks_draft_copy(&p->job, topped_best(p), arena);
}

static int plans_found(const ks_placing *p)
{
    return p->run.found + p->filling.run.found;
}

/* What the plan would hold if it were asked for now: sets that are not together would stay out. */
static ks_progress progress_of(ks_placing *p)
{
    ks_arena scratch = {0};
    ks_draft best = best_draft(p, &scratch);
    ks_progress progress = {.round = p->run.round + p->filling.run.round,
                            .rounds = p->filling_begun
                                          ? p->run.round + p->filling.rounds
                                          : p->job.options.rounds + rounds_of_filling(p),
                            .bound = p->bound.value,
                            .loads_at_least = p->run.fewest};
    ks_draft_settle(&p->job, &best);
    for (int i = 0; i < p->job.order->n_pieces; i++)
        progress.wanted += p->job.order->pieces[i].count;
    for (int s = 0; s < best.n_loads; s++) {
        progress.placed += pieces_in(&p->job, &best.loads[s], false);
        progress.filled += pieces_in(&p->job, &best.loads[s], true);
    }
    progress.loads = ks_draft_fired(&best);
    progress.worth = best.worth;
    ks_arena_finish(&scratch);
    return progress;
}

/* Whether more may be found of what is counted. */
static bool step_counted(ks_placing *placing)
{
    int round = placing->run.round;
    ks_run_round(&placing->run);
    if (placing->compares)
        ks_run_round(&placing->free_run);
    bool ended = placing->run.round > round;
    if (ended && placing->run.round == 2 && !ks_stop_is_asked(&placing->stop))
        placing->bound = ks_bound_find(&placing->job);
    bool rounds_left = placing->run.round < placing->job.options.rounds;
    return ended ? rounds_left && !is_proven(placing)
                 : rounds_left || !ks_run_may_end(&placing->run);
}

static void begin_filling(ks_placing *p)
{
    ks_draft best = ks_draft_copy(&p->job, topped_best(p), &p->arena);
    ks_filling_begin(&p->filling, &p->job, &best, rounds_of_filling(p), &p->arena);
    p->filling_begun = true;
}

/* The search is over: what still finds room as things stand goes in, so that no reason has to say
 * so. */
static void put_in_what_is_left(ks_placing *p)
{
    ks_draft best = ks_run_best(&p->run, &p->arena);
    ks_draft_settle(&p->job, &best);
    if (ks_change_none_needed(&p->job, &best, &p->arena))
        (void)ks_run_take(&p->run, &best);
}

ks_status ks_placing_step(ks_placing *placing, bool *more, ks_progress *progress, ks_error *err)
{
    if (placing->filling_begun) {
        ks_filling_step(&placing->filling);
        *more = ks_filling_goes_on(&placing->filling);
    } else {
        *more = step_counted(placing);
        if (!*more)
            put_in_what_is_left(placing);
        if (!*more && placing->fills) {
            begin_filling(placing);
            *more = ks_filling_goes_on(&placing->filling);
        }
    }
    *progress = progress_of(placing);
    (void)err;
    return KS_OK;
}

/* Far more than an honest plan asks; of each of the two ways of tidying. */
#define TIDY_EFFORT 200000000

/* What stood somewhere before stays there, even on a shelf that could be done without. */
static void save_shelves(const ks_run *run, ks_draft *draft, ks_arena *arena)
{
    int64_t effort = TIDY_EFFORT;
    ks_draft_settle(run->job, draft);
    for (int s = 0; s < draft->n_loads && !ks_job_keeps_shelves(run->job); s++) {
        ks_draft tried = ks_draft_copy(run->job, draft, arena);
        if (ks_tidy_fewer_shelves(run->job, &tried, s, &effort, arena) &&
            ks_before_stayed(run->job, &run->before, &tried) >=
                ks_before_stayed(run->job, &run->before, draft))
            *draft = tried;
    }
}

/* What costs nothing and people like; but what stood somewhere before stays there. */
static void tidy_load(const ks_run *run, ks_draft *draft, int slot, int64_t *effort,
                      ks_arena *arena)
{
    ks_draft tried = ks_draft_copy(run->job, draft, arena);
    bool moved =
        !ks_job_keeps_shelves(run->job) && ks_tidy_heavy_low(run->job, &tried, slot, effort, arena);
    moved = ks_tidy_owners(run->job, &tried, slot) || moved;
    if (moved && ks_before_stayed(run->job, &run->before, &tried) >=
                     ks_before_stayed(run->job, &run->before, draft))
        *draft = tried;
}

static void tidy(const ks_run *run, ks_draft *draft, ks_arena *arena)
{
    int64_t effort = TIDY_EFFORT;
    for (int s = 0; s < draft->n_loads && !ks_stop_is_asked(run->job->stop); s++)
        if (draft->loads[s].n_levels > 0)
            tidy_load(run, draft, s, &effort, arena);
}

/* Other plans have other numbers: of those found, and of the one that keeps most in place. */
static int best_number(const ks_placing *p)
{
    return 2 * plans_found(p) + (p->run.from.n_loads > 0) + 1;
}

/* Kept until a better one is found: a plan is handed out as a sketch, and again at the end. */
static ks_draft tidied_best(ks_placing *p, ks_arena *arena)
{
    if (p->tidied.of != best_number(p)) {
        ks_arena_finish(&p->tidied.arena);
        p->tidied.draft = best_draft(p, &p->tidied.arena);
        save_shelves(&p->run, &p->tidied.draft, &p->tidied.arena);
        ks_draft_settle(&p->job, &p->tidied.draft);
        tidy(&p->run, &p->tidied.draft, &p->tidied.arena);
        p->tidied.of = best_number(p);
    }
    return ks_draft_copy(&p->job, &p->tidied.draft, arena);
}

static ks_plan *plan_of(const ks_placing *placing, ks_draft *draft, const char *stopped_by,
                        ks_arena *arena)
{
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    const ks_job *job = &placing->job;
    *plan = (ks_plan){
        .version = ks_version,
        .seed = job->options.seed,
        .rounds = placing->run.round + placing->filling.run.round,
        .stopped_by = stopped_by,
        .order = job->order,
        .objective = job->order->rules.objective,
        .bound = placing->bound.value,
        .bound_kind = placing->bound.kind,
        .loads_at_least = placing->run.fewest,
    };
    ks_answer_loads(job, draft, plan, arena);
    plan->worth = draft->worth;
    return plan;
}

static ks_plan *best_plan(ks_placing *placing, const char *stopped_by, bool look, ks_arena *arena)
{
    const ks_job *job = &placing->job;
    ks_draft best = tidied_best(placing, arena);
    ks_plan *plan = plan_of(placing, &best, stopped_by, arena);
    placing->stayed = ks_before_stayed(job, &placing->run.before, &best);
    placing->handed = plans_found(placing);
    ks_filling_take_out(job, &best);
    ks_leftover_list(job, &best, look && !ks_stop_is_asked(job->stop), plan, arena);
    return plan;
}

ks_plan *ks_placing_one_load_fewer(const ks_placing *placing, ks_arena *arena)
{
    const ks_job *job = &placing->job;
    const ks_draft *found = ks_run_one_load_fewer(&placing->run);
    if (!found)
        return NULL;
    ks_draft draft = ks_draft_copy(job, found, arena);
    for (int s = 0; s < draft.n_loads; s++)
        ks_close_up(job, &draft, s, arena);
    ks_draft_settle(job, &draft);
    ks_plan *plan = plan_of(placing, &draft, "rounds", arena);
    ks_leftover_list(job, &draft, false, plan, arena);
    return plan;
}

ks_status ks_placing_best(ks_placing *placing, const char *stopped_by, ks_arena *arena,
                          ks_plan **out, ks_error *err)
{
    const char *export_to = placing->job.options.export_to;
    *out = best_plan(placing, stopped_by, true, arena);
    return export_to ? ks_pool_write(&placing->run.pool, export_to, err) : KS_OK;
}

ks_plan *ks_placing_sketch(ks_placing *placing, const char *stopped_by, ks_arena *arena)
{
    return best_plan(placing, stopped_by, false, arena);
}

bool ks_placing_is_better(const ks_placing *placing)
{
    return plans_found(placing) > placing->handed;
}

void ks_placing_stayed(const ks_placing *placing, int *stayed, int *of)
{
    *stayed = placing->stayed;
    *of = placing->run.before.wanted;
}

double ks_placing_free_worth(const ks_placing *placing)
{
    return placing->compares ? fmax(placing->free_run.best.worth, placing->run.best.worth) : NAN;
}

void ks_placing_stop(ks_placing *placing)
{
    placing->stop.asked = true;
}

ks_stop *ks_placing_stop_of(ks_placing *placing)
{
    return &placing->stop;
}

void ks_placing_destroy(ks_placing *placing)
{
    if (!placing)
        return;
    ks_arena_finish(&placing->topped.arena);
    ks_arena_finish(&placing->tidied.arena);
    ks_arena_finish(&placing->arena);
    free(placing);
}
