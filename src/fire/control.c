#include "fire/course.h"

#include "base/language.h"
#include "studio/display.h"

#include <math.h>

/* The set point waits when the coldest zone is further behind, and so no zone leads it by more: 5
 * to 10 K is what controllers hold zones to, common practice, no source. */
#define LEAD_K 10.0
#define THERE_K 0.5 /* near enough to the target */
#define FELL_BEHIND_K 5.0
#define STALL_S 1800.0
#define STALL_K 1.0
#define LEAST_HOLD_S 1e-3 /* what is left of a hold by rounding */
#define LONGEST_HEATING_S (200 * S_PER_H)
#define LONGEST_WAIT_FOR_CONE_S (3 * S_PER_H)

typedef struct {
    const ks_segment *asked;
    ks_segment_fired *went;
    bool up, last_heating;
    double mark_c, mark_s; /* for stalling */
    double left_s;
    double start_s, ramp_s, ramp_c; /* when it began; when and where its rise ended */
} segment_run;

/* Where the segment has got to: on the way up its coldest zone decides. */
static double at_c(const ks_course *c, const segment_run *s)
{
    return s->up ? ks_course_slowest_c(c) : ks_course_reading_c(c);
}

static void note_following(ks_course *c, segment_run *s)
{
    double behind_k = s->up ? c->set_c - at_c(c, s) : at_c(c, s) - c->set_c;
    bool only_a_limit = !s->up && c->job->reasons; /* falls slower: the ware bears that as well */
    if (only_a_limit || !s->went->followed || !(behind_k > FELL_BEHIND_K))
        return;
    s->went->followed = false;
    s->went->left_at_c = at_c(c, s);
    s->left_s = c->time_s;
}

static bool stalled(ks_course *c, segment_run *s)
{
    if (c->time_s - s->mark_s < STALL_S)
        return false;
    bool stuck = s->up && c->full_power && at_c(c, s) - s->mark_c < STALL_K &&
                 s->asked->target_c - at_c(c, s) > THERE_K;
    s->mark_c = at_c(c, s);
    s->mark_s = c->time_s;
    return stuck;
}

/* The next set point, and in *dt_s a step that ends on the target when that is near. */
static double next_set_c(const ks_course *c, const segment_run *s, double *dt_s)
{
    double rate_k_s = fabs(s->asked->rate_c_h) / S_PER_H, target_c = s->asked->target_c;
    if (rate_k_s == 0)
        return s->up ? target_c : NAN;
    double left_k = s->up ? target_c - c->set_c : c->set_c - target_c;
    if (left_k <= 0)
        return target_c;
    *dt_s = fmin(*dt_s, fmax(left_k / rate_k_s, 1));
    double set_c = c->set_c + (s->up ? 1 : -1) * fmin(rate_k_s * *dt_s, left_k);
    double limit_c = at_c(c, s) + (s->up ? 1 : -1) * (LEAD_K + rate_k_s * *dt_s);
    return s->up ? fmax(fmin(set_c, limit_c), c->set_c) : fmin(fmax(set_c, limit_c), c->set_c);
}

static bool segment_over(const ks_course *c, const segment_run *s)
{
    double target_c = s->asked->target_c;
    if (c->cone_down && s->last_heating)
        return true;
    return s->up ? at_c(c, s) >= target_c - THERE_K : at_c(c, s) <= target_c + THERE_K;
}

static bool out_of_time(ks_course *c, segment_run *s)
{
    if (c->time_s < LONGEST_HEATING_S && !stalled(c, s))
        return false;
    c->gave_up = true;
    s->went->followed = false;
    if (isnan(s->went->left_at_c))
        s->went->left_at_c = at_c(c, s);
    return true;
}

static void ramp(ks_course *c, segment_run *s)
{
    double step_s = c->job->parts.options->step_s;
    bool falls_freely = !s->up && s->asked->rate_c_h == 0;
    if (isnan(c->set_c))
        c->set_c = ks_course_reading_c(c);
    while (!segment_over(c, s)) {
        double dt_s = step_s;
        double set_c = next_set_c(c, s, &dt_s);
        ks_course_step(c, set_c, dt_s);
        if (!falls_freely)
            note_following(c, s);
        if (out_of_time(c, s))
            return;
    }
}

static void hold(ks_course *c, segment_run *s)
{
    double left_s = s->asked->hold_h * S_PER_H;
    bool awaits_cone = s->last_heating && c->job->end_cone >= 0;
    double most_s = awaits_cone ? fmax(left_s, LONGEST_WAIT_FOR_CONE_S) : left_s;
    while (!c->gave_up && most_s > LEAST_HOLD_S && !(awaits_cone && c->cone_down)) {
        double from_s = c->time_s;
        ks_course_step(c, s->asked->target_c, fmin(c->job->parts.options->step_s, most_s));
        note_following(c, s);
        most_s -= c->time_s - from_s;
    }
    if (awaits_cone && !c->cone_down)
        c->gave_up = true;
}

static const char *here_words(const ks_course *c, const segment_run *s)
{
    return ks_show_temp(c->job->display, at_c(c, s), c->arena);
}

/* "", or ", its bottom zone last" where each zone has a loop of its own. */
static const char *zone_words(const ks_course *c)
{
    int n = c->model.net.n_loops, z = c->slowest_zone;
    if (n < 2)
        return "";
    const char *name = z == 0       ? "bottom zone"
                       : z == n - 1 ? "top zone"
                       : n == 3     ? "middle zone"
                                    : NULL;
    return name ? ks_arena_print(c->arena, ", its %s last", name)
                : ks_arena_print(c->arena, ", its zone %d of %d last", z + 1, n);
}

/* What has weakened an electric kiln, "" = nothing. */
static const char *weakness_words(const ks_course *c)
{
    const ks_fire_options *options = c->job->parts.options;
    const ks_heat *heat = &c->job->parts.kiln->heat;
    double volts = options->volts > 0 ? options->volts : heat->supply_volts;
    bool worn = options->elements_worn >= 0.1, weak = volts > 0 && volts < 0.97 * heat->rated_volts;
    if (c->job->parts.kiln->fuel || (!worn && !weak))
        return "";
    if (!weak)
        return ks_tr("new elements");
    return ks_arena_print(c->arena,
                          worn ? "its rated %.0f V in place of %.0f V (an electrician's work), and "
                                 "new elements"
                               : "its rated %.0f V in place of %.0f V (an electrician's work)",
                          heat->rated_volts, volts);
}

/* What would let it follow: what is wrong first, then what may be changed. */
static const char *remedy_words(const ks_course *c, double rate_k_h)
{
    const char *weakness = weakness_words(c);
    if (*weakness)
        return weakness;
    if (c->model.net.loops[c->slowest_zone].part <= 0)
        return "elements in that zone: it has no power";
    if (c->gave_up)
        return "more power, fewer shelves, or a lower end";
    return ks_arena_print(
        c->arena, "fewer shelves there, or ask for %s",
        ks_show_rate(c->job->display, fmax(floor(rate_k_h / 5) * 5, 5), c->arena));
}

#define LATE_H 0.5 /* less is no news */

static bool late(const segment_run *s)
{
    double asked_h = s->asked->rate_c_h == 0
                         ? INFINITY
                         : fabs((s->asked->target_c - s->went->from_c) / s->asked->rate_c_h);
    return s->ramp_s - s->start_s > (asked_h + LATE_H) * S_PER_H;
}

static const char *said_instead(const ks_course *c, const segment_run *s)
{
    double hours = (s->ramp_s - s->left_s) / S_PER_H;
    double rate_k_h = hours > 0 ? fabs(s->ramp_c - s->went->left_at_c) / hours : 0;
    if (s->went->followed)
        return "";
    if (c->gave_up && c->job->end_cone >= 0 && s->last_heating && !c->full_power)
        return ks_arena_print(c->arena, "waits 3 h at %s for the cone and gives up",
                              here_words(c, s));
    if (c->gave_up && (!s->up || !c->full_power))
        return ks_arena_print(
            c->arena,
            "is still at %s after %.0f h; let ware dry before it is loaded, or ask "
            "for what a kiln comes to",
            here_words(c, s), c->time_s / S_PER_H);
    if (c->gave_up)
        return ks_arena_print(c->arena, "stops rising at %s with all power on%s; what helps: %s",
                              here_words(c, s), zone_words(c), remedy_words(c, rate_k_h));
    if (!s->up)
        return ks_arena_print(c->arena, "cools by itself at %s",
                              ks_show_rate(c->job->display, rate_k_h, c->arena));
    if (c->job->reasons)
        return ks_arena_print(c->arena,
                              "makes %s at full power%s, slower than the ware bears, which does no "
                              "harm",
                              ks_show_rate(c->job->display, rate_k_h, c->arena), zone_words(c));
    return ks_arena_print(c->arena, "climbs at full power at %s%s; what helps: %s",
                          ks_show_rate(c->job->display, rate_k_h, c->arena), zone_words(c),
                          remedy_words(c, rate_k_h));
}

static void run_segment(ks_course *c, int i, bool last_heating)
{
    const ks_segment *asked = &c->job->schedule->segments[i];
    ks_segment_fired *went = &c->out->segments[i];
    *went = (ks_segment_fired){.asked = *asked,
                               .from_h = c->time_s / S_PER_H,
                               .from_c = ks_course_reading_c(c),
                               .followed = true,
                               .left_at_c = NAN,
                               .reason = c->job->reasons ? c->job->reasons[i] : ""};
    segment_run s = {.asked = asked,
                     .went = went,
                     .up = asked->target_c >= ks_course_reading_c(c),
                     .last_heating = last_heating,
                     .mark_c = ks_course_reading_c(c),
                     .mark_s = c->time_s,
                     .start_s = c->time_s,
                     .left_s = c->time_s};
    double start_s = c->time_s;
    ramp(c, &s);
    s.ramp_s = c->time_s;
    s.ramp_c = at_c(c, &s);
    hold(c, &s);
    went->to_c = ks_course_reading_c(c);
    if (c->cone_down && last_heating)
        went->ended_by_cone = true;
    went->hours = (c->time_s - start_s) / S_PER_H;
    went->followed = went->followed || (!c->gave_up && !late(&s));
    went->instead = said_instead(c, &s);
    ks_course_point(c);
}

static int last_heating_segment(const ks_schedule *schedule)
{
    int hottest = 0;
    for (int i = 1; i < schedule->n_segments; i++)
        if (schedule->segments[i].target_c >= schedule->segments[hottest].target_c)
            hottest = i;
    return hottest;
}

void ks_course_schedule(ks_course *c)
{
    const ks_schedule *schedule = c->job->schedule;
    int last = last_heating_segment(schedule);
    if (last + 1 < schedule->n_segments)
        c->fall_k_h = fmax(-schedule->segments[last + 1].rate_c_h, 0);
    for (int i = 0; i < schedule->n_segments && !c->gave_up; i++) {
        run_segment(c, i, i == last);
        c->out->n_segments = i + 1;
        if (c->cone_down && i < last)
            i = last - 1; /* the cone is down before its segment: what is left is skipped */
    }
}
