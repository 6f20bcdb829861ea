/* When the coming firings take place. */
#include "app/record/next_firings.h"

#include "app/hours/full_hours.h"
#include "app/hours/load_lengths.h"
#include "base/days/civil.h"
#include "base/days/date.h"
#include "clock/start.h"
#include "cost/bill.h"
#include "cost/fine.h"
#include "kilnstow/money.h"
#include "studio/late_ware.h"

#include <stdlib.h>
#include <string.h>

enum {
    MINUTE_S = 60,
    HOUR_S = 3600,
    DAY_S = 86400,
    HOURS_TRIED = 60 * 24,
    COOLS_WITHIN_S = 11 * DAY_S
};

/* What a kiln's firing takes, simulated once. */
typedef struct {
    bool is_known;
    ks_firing_result fired;
    ks_lengths lengths;
} simulated;

typedef struct {
    ks_next_outcome *out;
    ks_arena *arena;
    simulated *known; /* kiln * firings + firing */
    const ks_occupation **others;
} dating;

static ks_status simulate(dating *d, const ks_next_firing *load, const simulated **out,
                          ks_error *err)
{
    const ks_order *order = d->out->order;
    simulated *of = &d->known[load->kiln * order->n_firings + load->firing];
    *out = of;
    if (of->is_known)
        return KS_OK;
    ks_status status = ks_full_fired(order, load->kiln, load->firing, d->arena, &of->fired, err);
    of->is_known = !status;
    if (!status)
        of->lengths = ks_lengths_of(order, &of->fired);
    return status;
}

/* The kiln's other loads that have a time. */
static int others_of(const dating *d, const ks_next_firing *load)
{
    const ks_next_outcome *out = d->out;
    int n = 0;
    for (int i = 0; i < out->n; i++)
        if (&out->firings[i] != load && out->firings[i].kiln == load->kiln &&
            out->firings[i].at.on_s != 0)
            d->others[n++] = &out->firings[i].at;
    for (int i = 0; i < out->n_cooling; i++)
        if (out->cooling[i].kiln == load->kiln)
            d->others[n++] = &out->cooling[i].at;
    return n;
}

static int64_t due_s(const ks_next_outcome *out, int day)
{
    return ks_utc_of_local(&out->zone, (int64_t)day * DAY_S + KS_DUE_BY_MIN * MINUTE_S);
}

/* What electricity costs from then on; 0 where the hour does not matter. */
static int64_t power_minor(const dating *d, const ks_next_firing *load, const simulated *of,
                           int64_t on_s)
{
    const ks_order *order = d->out->order;
    ks_load alone = {.kiln = load->kiln,
                     .kiln_id = order->kilns[load->kiln].id,
                     .firing = order->firings[load->firing],
                     .day = KS_NO_DAY};
    const ks_plan plan = {.order = order, .n_loads = 1, .loads = &alone};
    if (!order->money || !ks_start_matters(&order->money->power) ||
        order->kilns[load->kiln].heat.kind != KS_ELECTRIC)
        return 0;
    return ks_fine_minor(ks_load_power_at(&plan, 0, &of->fired, on_s));
}

/* Starts of a day, from `from_s` on, that are in time where the first one is: the cheapest. */
static int64_t cheapest_of_day(const dating *d, ks_next_firing *load, const simulated *of,
                               const ks_start_wanted *wanted, int64_t from_s)
{
    int64_t best_s = from_s, told = power_minor(d, load, of, from_s), least = told;
    int64_t by_s = load->due_day == KS_NO_DAY ? INT64_MAX : due_s(d->out, load->due_day);
    int64_t open_s = ks_occupied(wanted->lengths, wanted->people, from_s).open_s;
    by_s = open_s > by_s ? open_s : by_s;
    for (int64_t on_s = from_s + HOUR_S; told > 0 && on_s < from_s + DAY_S; on_s += HOUR_S) {
        int64_t minor = power_minor(d, load, of, on_s);
        if (minor < least && ks_start_suits(wanted, on_s, true) &&
            ks_occupied(wanted->lengths, wanted->people, on_s).open_s <= by_s) {
            best_s = on_s;
            least = minor;
        }
    }
    load->saves_minor = told - least;
    return best_s;
}

/* What is not full may be filled until the last start that opens a day before it is due. */
static int64_t latest_in_time(const dating *d, const ks_next_firing *load,
                              const ks_start_wanted *wanted, int64_t first_s)
{
    int64_t latest_s = first_s, by_s = due_s(d->out, load->due_day) - DAY_S;
    for (int h = 1; h < HOURS_TRIED; h++) {
        int64_t on_s = first_s + (int64_t)h * HOUR_S;
        if (on_s + wanted->lengths->open_s > by_s)
            break;
        if (ks_start_suits(wanted, on_s, true))
            latest_s = on_s;
    }
    return latest_s;
}

static int64_t proposed_s(const dating *d, ks_next_firing *load, const simulated *of)
{
    ks_start_wanted wanted = {.lengths = &of->lengths,
                              .people = &d->out->people,
                              .n_others = others_of(d, load),
                              .others = d->others,
                              .at_min = -1};
    int64_t first_s = ks_start_free(&wanted, d->out->from_s + of->lengths.loading_s);
    if (first_s == KS_NO_TIME)
        return first_s;
    if (load->why == KS_NEXT_DUE)
        first_s = latest_in_time(d, load, &wanted, first_s);
    return cheapest_of_day(d, load, of, &wanted, first_s);
}

/* As the calendar has it. */
static int64_t told_s(const ks_next_outcome *out, int day)
{
    const ks_load dated = {.day = day};
    return ks_utc_of_local(&out->zone, ks_load_start(out->order, &dated).local_min * MINUTE_S);
}

static void find_late(const ks_next_outcome *out, ks_next_firing *load)
{
    for (int i = 0; i < load->n_ware; i++) {
        int day = out->order->pieces[load->ware[i].piece].due_day;
        load->ware[i].late = day != KS_NO_DAY && load->at.open_s > due_s(out, day);
    }
}

static ks_status put_on_clock(dating *d, ks_next_firing *load, ks_error *err)
{
    const simulated *of;
    if (load->firing < 0) { /* nothing waits for it: only its day is known */
        load->at.on_s = load->at.loading_s = told_s(d->out, load->day);
        load->at.ended_s = load->at.open_s = load->at.unloading_s = load->at.empty_s = KS_NO_TIME;
        load->at.cone_down_s = KS_NO_TIME;
        return KS_OK;
    }
    ks_status status = simulate(d, load, &of, err);
    if (status)
        return status;
    int64_t on_s = load->day == KS_NO_DAY ? proposed_s(d, load, of) : told_s(d->out, load->day);
    if (on_s == KS_NO_TIME)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: found no start within 60 days for a firing of %s; give it a day, or "
                       "longer opening_hours",
                       d->out->order->file, d->out->order->kilns[load->kiln].id);
    load->at = ks_occupied(&of->lengths, &d->out->people, on_s);
    find_late(d->out, load);
    return KS_OK;
}

static int by_loading(const void *a, const void *b)
{
    const ks_next_firing *x = a, *y = b;
    bool waits_x = x->why == KS_NEXT_WAITS, waits_y = y->why == KS_NEXT_WAITS;
    if (waits_x != waits_y)
        return waits_x - waits_y;
    if (x->at.loading_s != y->at.loading_s)
        return x->at.loading_s < y->at.loading_s ? -1 : 1;
    return x->kiln != y->kiln ? x->kiln - y->kiln : x->firing - y->firing;
}

ks_status ks_next_dates(ks_next_outcome *outcome, ks_arena *arena, ks_error *err)
{
    const ks_order *order = outcome->order;
    dating d = {outcome, arena, KS_TAKE(arena, order->n_kilns * order->n_firings, simulated),
                KS_TAKE(arena, outcome->n + outcome->n_cooling, const ks_occupation *)};
    ks_status status = KS_OK;
    for (int dated = 1; dated >= 0; dated--)
        for (int i = 0; i < outcome->n && !status; i++) {
            ks_next_firing *load = &outcome->firings[i];
            if ((load->why == KS_NEXT_DATED) == dated && load->why != KS_NEXT_WAITS)
                status = put_on_clock(&d, load, err);
        }
    if (!status && outcome->n > 1)
        qsort(outcome->firings, (size_t)outcome->n, sizeof *outcome->firings, by_loading);
    return status;
}

/* As it was logged: by its end where that is told, else by its start; a day alone begins at 8. */
static int64_t logged_on_s(const ks_next_outcome *out, const ks_book_firing *firing,
                           const ks_lengths *lengths)
{
    int64_t minute;
    int day;
    if (*firing->ended && ks_moment_parse(firing->ended, &minute))
        return ks_utc_of_local(&out->zone, minute * MINUTE_S) - lengths->ended_s;
    if (ks_moment_parse(firing->started, &minute))
        return ks_utc_of_local(&out->zone, minute * MINUTE_S);
    return ks_date_parse(firing->started, &day) ? 0 : told_s(out, day);
}

static ks_status add_cooling(ks_book *book, ks_next_outcome *out, int kiln,
                             const ks_book_firing *firing, ks_arena *arena, ks_error *err)
{
    ks_plan *plan;
    ks_firing_result fired;
    ks_fire_options options = ks_fire_default();
    options.load = firing->load - 1;
    options.cooling = true;
    ks_status status = ks_book_plan_read(book, firing->plan, arena, &plan, err);
    if (!status)
        status = ks_fire(plan, &options, arena, &fired, err);
    if (status)
        return status;
    ks_lengths lengths = ks_lengths_of(plan->order, &fired);
    ks_occupation at = ks_occupied(&lengths, &out->people, logged_on_s(out, firing, &lengths));
    if (at.empty_s > out->from_s)
        out->cooling[out->n_cooling++] = (struct ks_still_in){kiln, firing->mark.n, at};
    return KS_OK;
}

/* The last firing of each kiln, where it is so fresh that the kiln may still be hot. */
ks_status ks_next_cooling(ks_book *book, ks_next_outcome *outcome, ks_arena *arena, ks_error *err)
{
    const ks_order *order = outcome->order;
    int64_t since_s = ks_local_of_utc(&outcome->zone, outcome->from_s - COOLS_WITHIN_S);
    const char *since =
        ks_arena_text_n(arena, ks_civil_print(since_s, arena), strlen("2026-11-28"));
    ks_status status = KS_OK;
    outcome->cooling = KS_TAKE(arena, order->n_kilns, struct ks_still_in);
    for (int k = 0; k < order->n_kilns && !status; k++) {
        int n;
        ks_book_firing *firings;
        const ks_book_asked asked = {.kiln = order->kilns[k].id, .from = since};
        status = ks_book_firings(book, &asked, arena, &n, &firings, err);
        if (!status && n > 0)
            status = add_cooling(book, outcome, k, &firings[n - 1], arena, err);
    }
    return status;
}
