#include "app/calendar_loads.h"

#include "app/fire_run.h"
#include "app/hours/load_lengths.h"
#include "app/machine/now.h"
#include "base/days/date.h"
#include "base/hash.h"
#include "base/language.h"
#include "kilnstow/money.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MINUTE_S = 60, HOUR_S = 3600, DAY_S = 86400 };

static void note(ks_calendar_outcome *out, const char *english)
{
    const char *words = ks_tr(english);
    for (int i = 0; i < out->n_notes; i++)
        if (strcmp(out->notes[i], words) == 0)
            return;
    out->notes[out->n_notes++] = words;
}

/* A start that the user tells, for this load whatever its date. */
static ks_status read_start(const char *text, ks_start *start, ks_error *err)
{
    *start = (ks_start){.known = true};
    if (ks_moment_parse(text, &start->local_min))
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--start: found \"%s\"; it takes a time like \"2026-11-28 18:00\"", text);
}

static void note_handling(const ks_order *order, ks_calendar_outcome *out)
{
    double both_s = ks_handling_s(order);
    if (isnan(order->loading_s) || isnan(order->unloading_s))
        note(out, both_s == 3 * HOUR_S
                      ? "a kiln takes 2 h to load and 1 h to unload (common practice, no source); "
                        "the order's loading and unloading tell your own"
                      : "of the costs' time for a load, two thirds go into loading and one third "
                        "into unloading (common practice, no source); the order's loading and "
                        "unloading tell your own");
}

static void note_lengths(const ks_order *order, const ks_firing_result *fired,
                         ks_calendar_outcome *out)
{
    if (!isfinite(fired->open_after_hours))
        note(out, "a kiln that is not cool ten days after its firing is taken as shut until then");
    note_handling(order, out);
}

/* The same load of every plan of one order: by the studio, the order, the kiln and the day, and of
 * several of these the how manieth. */
static const char *uid_of(const ks_calendar_outcome *out, int at, ks_arena *arena)
{
    const ks_calendar_load *load = &out->loads[at];
    const ks_load *of = &load->of->plan->loads[load->load];
    const ks_order *order = load->of->plan->order;
    const char *day = of->day == KS_NO_DAY ? "" : ks_date_print(of->day, arena);
    const char *words =
        ks_arena_print(arena, "%s\n%s\n%s\n%s", order->studio, order->title, of->kiln_id, day);
    int nth = 0;
    for (int i = 0; i < at; i++)
        nth += strncmp(out->loads[i].uid, words, strlen(words)) == 0 &&
               out->loads[i].uid[strlen(words)] == '\n';
    return ks_arena_print(arena, "%s\n%d", words, nth);
}

static void hash_uids(ks_calendar_outcome *out, ks_arena *arena)
{
    enum { DIGITS = 32 };
    char hex[65];
    for (int i = 0; i < out->n_loads; i++) {
        ks_sha256(out->loads[i].uid, strlen(out->loads[i].uid), hex);
        out->loads[i].uid = ks_arena_text_n(arena, hex, DIGITS);
    }
}

/* As they were fired already, or anew. */
static ks_status fired_loads(const ks_calendar_job *job, const ks_calendar_plan *of,
                             ks_arena *arena, ks_fire_outcome *fire, ks_error *err)
{
    ks_fire_job firing = {.load = job->load, .options = ks_fire_default()};
    if (!of->fired)
        return ks_fire_loads(&firing, of->plan, arena, fire, err);
    *fire = *of->fired;
    return KS_OK;
}

static ks_status add_loads(const ks_calendar_job *job, const ks_calendar_plan *of, ks_arena *arena,
                           ks_calendar_outcome *out, ks_error *err)
{
    ks_fire_outcome fire;
    ks_status status = fired_loads(job, of, arena, &fire, err);
    for (int i = 0; i < fire.n_loads && !status; i++) {
        if (job->load >= 0 && fire.loads[i] != job->load)
            continue;
        int at = out->n_loads++;
        ks_calendar_load *load = &out->loads[at];
        *load = (ks_calendar_load){.of = of, .load = fire.loads[i], .fired = &fire.fired[i]};
        load->start = ks_load_start(of->plan->order, &of->plan->loads[load->load]);
        load->proposed = of->plan->loads[load->load].day == KS_NO_DAY;
        load->lengths = ks_lengths_of(of->plan->order, load->fired);
        note_lengths(of->plan->order, load->fired, out);
        load->uid = uid_of(out, at, arena);
        if (load->start.clock_assumed)
            note(out, "loads with a date are switched on at 8:00; the order's start tells your own "
                      "hour");
    }
    return status;
}

static bool same_kiln(const ks_calendar_load *a, const ks_calendar_load *b)
{
    return strcmp(a->of->plan->loads[a->load].kiln_id, b->of->plan->loads[b->load].kiln_id) == 0;
}

ks_start_wanted ks_calendar_wanted(const ks_calendar_outcome *out, int at, const ks_occupation *now,
                                   ks_arena *arena)
{
    const ks_occupation **others = KS_TAKE(arena, out->n_loads, const ks_occupation *);
    ks_start_wanted wanted = {
        .lengths = &out->loads[at].lengths, .people = &out->people, .others = others, .at_min = -1};
    for (int i = 0; i < out->n_loads; i++)
        if (i != at && now[i].on_s != KS_NO_TIME && same_kiln(&out->loads[i], &out->loads[at]))
            others[wanted.n_others++] = &now[i];
    return wanted;
}

ks_occupation *ks_calendar_now(const ks_calendar_outcome *out, ks_arena *arena)
{
    ks_occupation *now = KS_TAKE(arena, out->n_loads, ks_occupation);
    for (int i = 0; i < out->n_loads; i++)
        now[i] = out->loads[i].at;
    return now;
}

/* From when on a load without a date is proposed, and at which minute of the day. */
static void propose_from(const ks_calendar_job *job, const ks_calendar_load *load,
                         const ks_zone_rule *zone, int64_t *from_s, int *at_min)
{
    const ks_order *order = load->of->plan->order;
    int day = (int)(ks_local_of_utc(zone, ks_now()) / DAY_S) + 1;
    if (job->from)
        (void)ks_date_parse(job->from, &day);
    ks_load dated = {.day = day};
    ks_start start = job->from || !load->start.known ? ks_load_start(order, &dated) : load->start;
    *at_min = (int)(start.local_min % KS_DAY_MIN);
    *from_s = ks_utc_of_local(zone, start.local_min * MINUTE_S);
}

static ks_status propose(const ks_calendar_job *job, int at, ks_occupation *now, ks_arena *arena,
                         ks_calendar_outcome *out, ks_error *err)
{
    ks_calendar_load *load = &out->loads[at];
    ks_start_wanted wanted = ks_calendar_wanted(out, at, now, arena);
    int64_t from_s = 0;
    propose_from(job, load, &out->rule, &from_s, &wanted.at_min);
    int64_t on_s = ks_start_free(&wanted, from_s);
    if (on_s == KS_NO_TIME)
        return ks_fail(err, KS_BAD_INPUT,
                       "%s: load %d: found no start for it within 60 days; give it a date, or "
                       "longer opening_hours",
                       load->of->path, load->load + 1);
    now[at] = ks_occupied(&load->lengths, &out->people, on_s);
    note(out, "loads without a date are only proposed: give them dates in the order's kilns");
    return KS_OK;
}

static int64_t planned_s(const ks_calendar_outcome *out, int64_t local_min)
{
    return ks_utc_of_local(&out->rule, local_min * MINUTE_S);
}

/* What the plan tells of the load, if it is switched on as it was planned. */
static void recall_plan(const ks_calendar_outcome *out, ks_calendar_load *load)
{
    const ks_load_times *times = &load->of->plan->loads[load->load].times;
    load->is_planned = times->told && !load->proposed && load->start.local_min == times->on_min;
    if (!load->is_planned)
        return;
    bool by_cone = load->lengths.cone_down_s != KS_NO_TIME;
    load->planned =
        (ks_occupation){.on_s = planned_s(out, times->on_min),
                        .cone_down_s = by_cone ? planned_s(out, times->cone_down_min) : KS_NO_TIME,
                        .ended_s = planned_s(out, times->ended_min),
                        .open_s = planned_s(out, times->open_min)};
}

static ks_status put_on_clock(const ks_calendar_job *job, ks_arena *arena, ks_calendar_outcome *out,
                              ks_error *err)
{
    ks_status status = KS_OK;
    ks_occupation *now = KS_TAKE(arena, out->n_loads, ks_occupation);
    for (int i = 0; i < out->n_loads; i++) {
        ks_calendar_load *load = &out->loads[i];
        int64_t on_s = ks_utc_of_local(&out->rule, load->start.local_min * MINUTE_S);
        now[i].on_s = KS_NO_TIME;
        if (!load->proposed)
            now[i] = ks_occupied(&load->lengths, &out->people, on_s);
    }
    for (int i = 0; i < out->n_loads && !status; i++)
        if (out->loads[i].proposed)
            status = propose(job, i, now, arena, out, err);
    for (int i = 0; i < out->n_loads; i++) {
        out->loads[i].at = now[i];
        recall_plan(out, &out->loads[i]);
    }
    return status;
}

static int by_loading(const void *a, const void *b)
{
    const ks_calendar_load *x = a, *y = b;
    if (x->at.loading_s != y->at.loading_s)
        return x->at.loading_s < y->at.loading_s ? -1 : 1;
    return x->of != y->of ? (x->of < y->of ? -1 : 1) : x->load - y->load;
}

ks_status ks_calendar_job_check(const ks_calendar_job *job, ks_error *err)
{
    int day;
    ks_start start;
    const char *fault = job->from ? ks_date_parse(job->from, &day) : NULL;
    if (fault)
        return ks_fail(err, KS_BAD_USAGE, "--from: found \"%s\"; %s", job->from, fault);
    return job->start ? read_start(job->start, &start, err) : KS_OK;
}

static ks_status one_start_suffices(const ks_calendar_job *job, int n_loads, ks_error *err)
{
    if (!job->start || n_loads == 1)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--start: found one time for %d loads; choose the load with --load, or give "
                   "each a date in the order",
                   n_loads);
}

static void start_as_told(const ks_calendar_job *job, ks_calendar_outcome *out)
{
    ks_error checked = {0};
    if (!job->start)
        return;
    out->loads[0].proposed = false;
    (void)read_start(job->start, &out->loads[0].start, &checked);
}

ks_status ks_calendar_fill(const ks_calendar_job *job, int n_plans, const ks_calendar_plan *plans,
                           ks_arena *arena, ks_calendar_outcome *out, ks_error *err)
{
    int n = 0;
    for (int p = 0; p < n_plans; p++)
        n += plans[p].plan->n_loads;
    out->loads = KS_TAKE(arena, n, ks_calendar_load);
    ks_status status = one_start_suffices(job, job->load >= 0 ? n_plans : n, err);
    for (int p = 0; p < n_plans && !status; p++)
        status = add_loads(job, &plans[p], arena, out, err);
    hash_uids(out, arena);
    if (!status)
        start_as_told(job, out);
    if (!status)
        status = put_on_clock(job, arena, out, err);
    if (out->people.n_open == 0)
        note(out, "someone may be at the studio from 6 to 22 o'clock (common practice, no source); "
                  "the order's opening_hours tell your own");
    if (!status && out->n_loads > 1)
        qsort(out->loads, (size_t)out->n_loads, sizeof *out->loads, by_loading);
    return status;
}

void ks_calendar_clashes_find(ks_calendar_outcome *out, ks_arena *arena)
{
    int room = 0;
    ks_occupation *now = ks_calendar_now(out, arena);
    for (int later = 0; later < out->n_loads; later++) {
        int first = out->n_clashes;
        for (int i = 0; i < later; i++) {
            ks_calendar_load *a = &out->loads[i], *b = &out->loads[later];
            if (!same_kiln(a, b) || !ks_occupations_clash(&a->at, &b->at))
                continue;
            a->clashes = b->clashes = true;
            out->clashes = KS_GROW(arena, out->clashes, out->n_clashes, &room, ks_calendar_clash);
            out->clashes[out->n_clashes++] = (ks_calendar_clash){i, later, KS_NO_TIME};
        }
        if (out->n_clashes == first)
            continue;
        ks_start_wanted wanted = ks_calendar_wanted(out, later, now, arena);
        int64_t free_s = ks_start_free(&wanted, out->loads[later].at.on_s);
        for (int c = first; c < out->n_clashes; c++)
            out->clashes[c].free_s = free_s;
        if (free_s != KS_NO_TIME)
            now[later] = ks_occupied(&out->loads[later].lengths, &out->people, free_s);
    }
}
