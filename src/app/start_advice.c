#include "app/start_advice.h"

#include "app/calendar_loads.h"
#include "app/calendar_run.h"
#include "cost/bill.h"
#include "cost/fine.h"
#include "kilnstow/money.h"

enum { HOUR_S = 3600, HOURS_OF_WEEK = 168 };

typedef struct {
    const ks_calendar_outcome *calendar;
    const ks_firing_result *fired;
    const ks_calendar_load *load;
    int64_t open_by_s;
    ks_start_wanted wanted;
} search;

/* When it must be open, so that nothing in it gets late, or later than it is. */
static int64_t open_by(const ks_calendar_outcome *calendar, int at)
{
    int64_t by_s = INT64_MAX, open_s = calendar->loads[at].at.open_s;
    for (int i = 0; i < calendar->n_dues; i++)
        if (calendar->dues[i].load == at) {
            int64_t due_s = calendar->dues[i].due_s;
            int64_t limit_s = due_s > open_s ? due_s : open_s;
            by_s = limit_s < by_s ? limit_s : by_s;
        }
    return by_s;
}

static search search_of(const ks_calendar_outcome *calendar, int at, const ks_firing_result *fired,
                        ks_arena *arena)
{
    return (search){calendar, fired, &calendar->loads[at], open_by(calendar, at),
                    ks_calendar_wanted(calendar, at, ks_calendar_now(calendar, arena), arena)};
}

/* Into the list, by what it saves; of equal ones the earliest stays. */
static void note_start(ks_start_advice *advice, int64_t on_s, int64_t saves_minor)
{
    int place = 0;
    while (place < advice->n && advice->starts[place].saves_minor > saves_minor)
        place++;
    if (place == KS_STARTS_ADVISED ||
        (place < advice->n && advice->starts[place].saves_minor == saves_minor))
        return;
    if (advice->n < KS_STARTS_ADVISED)
        advice->n++;
    for (int i = advice->n - 1; i > place; i--)
        advice->starts[i] = advice->starts[i - 1];
    advice->starts[place] = (struct ks_cheaper_start){on_s, saves_minor};
}

static void try_week(const search *s, bool end_watched, ks_start_advice *advice)
{
    const ks_plan *plan = s->load->of->plan;
    ks_fine told = ks_load_power_at(plan, s->load->load, s->fired, advice->told_s);
    int64_t first_s = advice->told_s + HOUR_S - 1;
    first_s -= first_s % HOUR_S;
    advice->n = 0;
    advice->is_watched = end_watched;
    for (int h = 0; h < HOURS_OF_WEEK; h++) {
        int64_t on_s = first_s + (int64_t)h * HOUR_S;
        ks_occupation at = ks_occupied(&s->load->lengths, &s->calendar->people, on_s);
        if (at.open_s > s->open_by_s || !ks_start_suits(&s->wanted, on_s, end_watched))
            continue;
        int64_t saves_minor =
            ks_fine_minor(told - ks_load_power_at(plan, s->load->load, s->fired, on_s));
        if (saves_minor > 0)
            note_start(advice, on_s, saves_minor);
    }
}

static ks_start_advice advice_of(const ks_calendar_outcome *calendar, int at,
                                 const ks_firing_result *fired, ks_arena *arena)
{
    search s = search_of(calendar, at, fired, arena);
    ks_start_advice advice = {.load = s.load->load, .told_s = s.load->at.on_s};
    try_week(&s, true, &advice);
    if (advice.n == 0)
        try_week(&s, false, &advice);
    return advice;
}

ks_status ks_starts_advise(const char *path, ks_plan *plan, const ks_fire_outcome *fired,
                           ks_arena *arena, ks_start_advices *out, ks_error *err)
{
    ks_calendar_outcome calendar;
    const ks_calendar_plan of = {path, plan, fired};
    const ks_calendar_job job = {.load = -1};
    ks_status status = ks_calendar_of(&job, 1, &of, arena, &calendar, err);
    *out = (ks_start_advices){.zone = calendar.rule};
    out->loads = KS_TAKE(arena, plan->n_loads, ks_start_advice);
    if (status || !ks_start_matters(&plan->order->money->power))
        return status;
    for (int i = 0; i < calendar.n_loads; i++) {
        const ks_load *load = &plan->loads[calendar.loads[i].load];
        if (load->kiln >= 0 && plan->order->kilns[load->kiln].heat.kind == KS_ELECTRIC)
            out->loads[out->n++] = advice_of(&calendar, i, fired->fired, arena);
    }
    return KS_OK;
}
