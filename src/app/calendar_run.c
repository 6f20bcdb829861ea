#include "app/calendar_run.h"

#include "app/fire_run.h"
#include "base/civil.h"
#include "base/date.h"
#include "base/units.h"
#include "clock/start.h"
#include "kilnstow/draw.h"
#include "kilnstow/money.h"

#include <math.h>
#include <string.h>

/* To load a kiln of this many pieces with care. */
static const int64_t loading_s = 2 * 3600;

/* A start that the user tells, for this load whatever its date. */
static ks_status read_start(const char *text, ks_arena *arena, ks_start *start, ks_error *err)
{
    int day;
    double time_s;
    if (strlen(text) != 16 || text[10] != ' ' ||
        ks_date_parse(ks_arena_text_n(arena, text, 10), &day) ||
        ks_quantity_parse(KS_TIME, text + 11, NULL, &time_s) || time_s >= 86400)
        return ks_fail(err, KS_BAD_USAGE,
                       "--start: found \"%s\"; it takes a time like \"2026-11-28 18:00\"", text);
    *start = (ks_start){.local_min = (int64_t)day * 1440 + (int64_t)(time_s / 60), .known = true};
    return KS_OK;
}

static ks_status start_of(const ks_plan *plan, int load, const char *text, ks_arena *arena,
                          ks_start *start, ks_error *err)
{
    if (text)
        return read_start(text, arena, start, err);
    *start = ks_load_start(plan->order, &plan->loads[load]);
    if (!start->known)
        return ks_fail(err, KS_BAD_USAGE,
                       "draw: when does the firing start? Add --start \"2026-11-28 "
                       "18:00\", or costs.start to the order");
    return KS_OK;
}

static const char *about(const ks_plan *plan, const ks_firing_result *fired, const ks_start *start,
                         ks_arena *arena)
{
    return ks_arena_print(
        arena,
        "%s%s\n%.0f kWh expected\nVentilate; never open it hot; local electrical code and "
        "a licensed electrician decide on the circuit\nplan %.8s",
        start->clock_assumed ? "Only the day is given; the hour is assumed\n" : "", fired->verdict,
        fired->energy.total, ks_plan_hash(plan, arena));
}

ks_status ks_calendar_run(ks_plan *plan, int load, const char *told, ks_arena *arena,
                          const char **text, ks_error *err)
{
    ks_start start = {0};
    ks_fire_outcome fire;
    ks_fire_job job = {.load = load < 0 ? 0 : load, .options = ks_fire_default()};
    job.options.cooling = true;
    ks_status status = KS_OK;
    if (job.load < plan->n_loads) /* else the firing tells that there is no such load */
        status = start_of(plan, job.load, told, arena, &start, err);
    if (!status)
        status = ks_fire_loads(&job, plan, arena, &fire, err);
    if (status)
        return status;
    const ks_firing_result *fired = &fire.fired[0];
    ks_zone_rule zone = ks_studio_zone(plan->order);
    int64_t start_s = ks_utc_of_local(&zone, start.local_min * 60);
    int64_t end_s = start_s + (int64_t)(fired->hours * 3600);
    ks_firing_times times = {
        .title = ks_arena_print(arena, "%s, load %d", plan->order->title, job.load + 1),
        .where = plan->order->studio,
        .about = about(plan, fired, &start, arena),
        .plan_hash = ks_plan_hash(plan, arena),
        .load = job.load + 1,
        .stamp_s = start_s - loading_s,
        .loading_s = start_s - loading_s,
        .start_s = start_s,
        .end_s = end_s,
        .open_s = isfinite(fired->open_after_hours)
                      ? end_s + (int64_t)(fired->open_after_hours * 3600)
                      : -1,
    };
    *text = ks_firing_calendar(&times, arena);
    return KS_OK;
}
