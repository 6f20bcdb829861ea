/* A schedule worked out here asks no more of a wall than it bears, if the wall is as warm as the
 * chamber. In a full kiln ware lags behind, most while its water boils off, and then catches up
 * faster than the chamber rises: once the load has been fired, what strains a wall is mended where
 * it happened, and the load is fired anew. */
#include "fire/case.h"

#include "base/language.h"

#include <math.h>
#include <string.h>

#define IN_HAND 0.97
#define SLOWEST_K_H 10.0
#define WATER_HOLD 1.3 /* times as long */
enum { TRIES_MOST = 4 };

/* The segment under way at that hour, -1 = none. */
static int segment_at(const ks_firing_result *out, double hour)
{
    int at = -1;
    for (int i = 0; i < out->n_segments && out->segments[i].from_h <= hour; i++)
        at = i;
    return at;
}

/* By hand there are no segments as they went: the one that the wall's temperature lies in. */
static int segment_through(const ks_schedule *schedule, const ks_penalty *strain)
{
    bool cools = strcmp(strain->kind, "cooling") == 0;
    for (int i = 0; i < schedule->n_segments; i++) {
        const ks_segment *segment = &schedule->segments[i];
        bool falls = i > 0 && segment->target_c < schedule->segments[i - 1].target_c;
        if (falls == cools &&
            (cools ? segment->target_c < strain->at_c : segment->target_c > strain->at_c))
            return i;
    }
    return -1;
}

static bool slow_down(ks_segment *segment, const ks_penalty *strain)
{
    double rate = fabs(segment->rate_c_h),
           less = floor(rate * IN_HAND * strain->bears / strain->went);
    if (rate <= SLOWEST_K_H || !(less < rate))
        return false;
    segment->rate_c_h = copysign(fmax(less, SLOWEST_K_H), segment->rate_c_h);
    return true;
}

/* The last hold of water below boiling, or of carbon before the wall closes. */
static int hold_of(const ks_schedule *schedule, double from_c, double to_c)
{
    int at = -1;
    for (int i = 0; i < schedule->n_segments; i++)
        if (schedule->segments[i].hold_h > 0 && schedule->segments[i].target_c >= from_c &&
            schedule->segments[i].target_c <= to_c)
            at = i;
    return at;
}

/* Which segment was changed for it, -1 = none. */
static int mend(ks_schedule *schedule, const ks_firing_result *out, const ks_penalty *strain)
{
    bool water = strcmp(strain->kind, "water") == 0, carbon = strcmp(strain->kind, "carbon") == 0;
    if (!water && !carbon) {
        int at =
            out->n_segments > 0 ? segment_at(out, strain->at_h) : segment_through(schedule, strain);
        return at >= 0 && slow_down(&schedule->segments[at], strain) ? at : -1;
    }
    int at = water ? hold_of(schedule, 40, 100) : hold_of(schedule, 600, 900);
    if (at >= 0 && water)
        schedule->segments[at].hold_h *= WATER_HOLD;
    else if (at >= 0)
        schedule->segments[at].hold_h += strain->bears - strain->went;
    return at;
}

static bool mend_all(ks_fire_case *asked, const ks_firing_result *out, ks_arena *arena)
{
    int n = asked->schedule.n_segments;
    ks_segment *segments = KS_TAKE(arena, n, ks_segment);
    const char **reasons = KS_TAKE(arena, n, const char *);
    bool changed = false;
    memcpy(segments, asked->schedule.segments, sizeof *segments * (size_t)n);
    memcpy(reasons, asked->worked.reasons, sizeof *reasons * (size_t)n);
    asked->schedule.segments = segments;
    asked->worked.reasons = reasons;
    for (int i = 0; i < out->n_strains; i++) {
        int at = mend(&asked->schedule, out, &out->strains[i]);
        if (at < 0)
            continue;
        changed = true;
        reasons[at] = ks_tr("ware lags the kiln here and catches up with it: slower or longer, so "
                            "that its walls bear it");
    }
    return changed;
}

/* What slower turns do not spare a wall is left to somebody who minds the switches all along that
 * segment, at the rate it bears. */
static bool mind_all(ks_fire_case *asked, const ks_firing_result *out, ks_arena *arena)
{
    int n = asked->schedule.n_segments;
    bool *minded = KS_TAKE(arena, n, bool), changed = false;
    ks_segment *segments = KS_TAKE(arena, n, ks_segment);
    memcpy(segments, asked->schedule.segments, sizeof *segments * (size_t)n);
    for (int i = 0; i < n && asked->minded; i++)
        minded[i] = asked->minded[i];
    for (int i = 0; i < out->n_strains; i++) {
        const char *kind = out->strains[i].kind;
        bool rises = strcmp(kind, "heating") == 0 || strcmp(kind, "steam") == 0;
        int at = rises ? segment_through(&asked->schedule, &out->strains[i]) : -1;
        if (at < 0 || minded[at])
            continue;
        minded[at] = changed = true;
        segments[at].rate_c_h = asked->worked.schedule.segments[at].rate_c_h;
    }
    asked->minded = minded;
    asked->schedule.segments = segments;
    return changed;
}

/* Changes the schedule and fires it anew until nothing is strained or nothing is left to change. */
static ks_status change_by(bool (*change)(ks_fire_case *, const ks_firing_result *, ks_arena *),
                           ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                           ks_error *err)
{
    ks_slant none = ks_slant_none();
    ks_status status = KS_OK;
    for (int i = 0; i < TRIES_MOST && !status; i++) {
        ks_fire_case_strains(asked, arena, out);
        if (!change(asked, out, arena))
            return KS_OK;
        status = ks_fire_case_run(asked, &none, true, arena, out, err);
    }
    return status;
}

ks_status ks_fire_case_spare(ks_fire_case *asked, ks_arena *arena, ks_firing_result *out,
                             ks_error *err)
{
    ks_status status = change_by(mend_all, asked, arena, out, err);
    if (!status && asked->kiln.heat.control == KS_BY_SWITCHES)
        status = change_by(mind_all, asked, arena, out, err);
    return status;
}
