/* Other prices of the same piece: a load is changed, simulated, billed and shared anew. */
#include "cost/fine.h"
#include "kilnstow/cone.h"
#include "kilnstow/cost.h"

#include <math.h>
#include <string.h>

/* A changed copy of one load, and of the schedule it is fired by. */
typedef struct {
    ks_plan plan;
    ks_load load;
    ks_schedule schedule;
    bool own_schedule; /* fire by it, not by the load's */
} changed_load;

static changed_load copy_order(const ks_plan *plan, int load, const ks_firing_result *fired,
                               ks_arena *arena)
{
    changed_load copy = {.plan = *plan, .load = plan->loads[load], .schedule = fired->schedule};
    copy.plan.n_loads = 1;
    copy.load.levels = KS_TAKE(arena, copy.load.n_levels + 1, ks_level);
    memcpy(copy.load.levels, plan->loads[load].levels,
           (size_t)copy.load.n_levels * sizeof(ks_level));
    copy.schedule.segments = KS_TAKE(arena, fired->schedule.n_segments, ks_segment);
    memcpy(copy.schedule.segments, fired->schedule.segments,
           (size_t)fired->schedule.n_segments * sizeof(ks_segment));
    return copy;
}

/* What a change is asked for: the copy to work on, and who the price is for. */
typedef struct {
    changed_load *copy;
    const ks_piece_cost *cost;
    ks_arena *arena;
    ks_what_if *out; /* change and note are filled in */
} change_job;

static bool shelf_more(const change_job *job)
{
    ks_load *load = &job->copy->load;
    load->levels[load->n_levels++] = load->levels[job->cost->level];
    job->out->change = "one more shelf of ware";
    job->out->note = "its own level once more, whether or not there is room for it";
    return true;
}

/* Rewrites each level's ware: a piece stands `times(n)` times, n counting the load's ware. */
static void ware_told_anew(const change_job *job, int (*times)(int n))
{
    ks_load *load = &job->copy->load;
    for (int v = 0, n = 0; v < load->n_levels; v++) {
        ks_level *level = &load->levels[v];
        ks_placed *anew = KS_TAKE(job->arena, 2 * level->n_pieces, ks_placed);
        int kept = 0;
        for (int p = 0; p < level->n_pieces; p++) {
            bool asked_for = v == job->cost->level && p == job->cost->place;
            bool ware = level->pieces[p].role != KS_CONES;
            int copies = ware ? times(n++) : 1;
            for (int c = 0; c < (asked_for && copies == 0 ? 1 : copies); c++)
                anew[kept++] = level->pieces[p];
        }
        level->pieces = anew;
        level->n_pieces = kept;
    }
}

static int every_tenth_twice(int n)
{
    return n % 10 == 9 ? 2 : 1;
}

static int every_second(int n)
{
    return n % 2;
}

static bool kiln_fuller(const change_job *job)
{
    ware_told_anew(job, every_tenth_twice);
    job->out->change = "a tenth more ware";
    job->out->note = "every tenth piece twice, on the same shelves";
    return true;
}

static bool kiln_half_empty(const change_job *job)
{
    ware_told_anew(job, every_second);
    job->out->change = "half the ware";
    job->out->note = "every second piece left out, on the same shelves";
    return true;
}

/* The whole cone below; there are half ones in the row. */
static const char *cone_below(const char *cone)
{
    int rank = ks_cone_rank(cone) - 1;
    while (rank >= 0 && strchr(ks_cone_name(rank), '.'))
        rank--;
    return rank >= 0 ? ks_cone_name(rank) : NULL;
}

/* The schedule's top comes down by as much as the cones are apart at 60 K/h. */
static bool cone_lower(const change_job *job)
{
    ks_firing *firing = &job->copy->load.firing;
    ks_schedule *schedule = &job->copy->schedule;
    const char *below = *firing->cone ? cone_below(firing->cone) : NULL;
    job->out->change = "one cone lower";
    job->out->note = "the firing ends by temperature, or there is no lower cone";
    if (!below)
        return false;
    double down_k = ks_cone_temp_c(firing->cone, 60) - ks_cone_temp_c(below, 60), top_c = 0;
    for (int i = 0; i < schedule->n_segments; i++)
        top_c = fmax(top_c, schedule->segments[i].target_c);
    for (int i = 0; i < schedule->n_segments; i++)
        if (schedule->segments[i].target_c >= top_c)
            schedule->segments[i].target_c -= down_k;
    if (*schedule->end_cone)
        schedule->end_cone = below;
    job->copy->own_schedule = true;
    firing->cone = below;
    job->out->change = ks_arena_print(job->arena, "one cone lower, %s", below);
    job->out->note = ks_arena_print(job->arena,
                                    "the same schedule, its top %.0f K lower; bodies "
                                    "and glazes must suit",
                                    down_k);
    return true;
}

static bool slower(const change_job *job)
{
    ks_schedule *schedule = &job->copy->schedule;
    bool any = false;
    for (int i = 0; i < schedule->n_segments; i++)
        if (schedule->segments[i].rate_c_h > 0) {
            schedule->segments[i].rate_c_h *= 0.75;
            any = true;
        }
    job->copy->own_schedule = true;
    job->out->change = "a quarter slower";
    job->out->note = any ? "every rate of heating times 0.75"
                         : "its schedule heats as fast as the kiln can throughout";
    return any;
}

static bool (*const changes[])(const change_job *job) = {shelf_more, kiln_fuller, kiln_half_empty,
                                                         cone_lower, slower};
enum { CHANGES = sizeof changes / sizeof *changes };

static void tell(const ks_costing *costing, const ks_piece_cost *cost,
                 const ks_firing_result *fired, ks_what_if *out)
{
    out->worked = true;
    out->reached = fired->reached;
    out->kwh = costing->loads[cost->load].kwh;
    out->bill_minor = costing->loads[cost->load].total_minor;
    out->cost_minor = cost->cost_minor;
    out->retail_minor = cost->retail_minor;
}

static ks_status recosted(const change_job *job, const ks_cost_options *options, ks_error *err)
{
    changed_load *copy = job->copy;
    ks_fire_options firing = ks_fire_default();
    ks_firing_result fired;
    ks_costing costing;
    copy->plan.loads = &copy->load;
    firing.schedule = copy->own_schedule ? &copy->schedule : NULL;
    firing.cooling = false;
    ks_status status = ks_fire(&copy->plan, &firing, job->arena, &fired, err);
    if (!status)
        status = ks_cost(&copy->plan, &fired, options, job->arena, &costing, err);
    for (int i = 0; !status && i < costing.n_pieces && !job->out->worked; i++)
        if (costing.pieces[i].piece == job->cost->piece &&
            costing.pieces[i].copy == job->cost->copy)
            tell(&costing, &costing.pieces[i], &fired, job->out);
    return status;
}

/* The plan's own figures, and the changes after them. */
static ks_status tell_first(const ks_plan *plan, const ks_firing_result *fired,
                            const ks_cost_options *options, change_job *job, ks_error *err)
{
    changed_load copy = copy_order(plan, job->cost->load, &fired[job->cost->load], job->arena);
    ks_costing costing;
    copy.plan.loads = &copy.load;
    job->out->change = "as planned";
    job->out->note = "";
    ks_status status =
        ks_cost(&copy.plan, &fired[job->cost->load], options, job->arena, &costing, err);
    for (int i = 0; !status && i < costing.n_pieces && !job->out->worked; i++)
        if (costing.pieces[i].piece == job->cost->piece &&
            costing.pieces[i].copy == job->cost->copy)
            tell(&costing, &costing.pieces[i], &fired[job->cost->load], job->out);
    return status;
}

ks_status ks_cost_what_if(const ks_plan *plan, const ks_firing_result *fired,
                          const ks_cost_options *options, const ks_piece_cost *cost,
                          ks_arena *arena, int *n, ks_what_if **out, ks_error *err)
{
    *n = CHANGES + 1;
    *out = KS_TAKE(arena, CHANGES + 1, ks_what_if);
    change_job job = {NULL, cost, arena, *out};
    ks_status status = tell_first(plan, fired, options, &job, err);
    for (int i = 0; i < CHANGES && !status; i++) {
        changed_load copy = copy_order(plan, cost->load, &fired[cost->load], arena);
        job.copy = &copy;
        job.out = &(*out)[i + 1];
        if (changes[i](&job))
            status = recosted(&job, options, err);
    }
    return status;
}
