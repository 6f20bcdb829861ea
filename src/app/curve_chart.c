#include "app/curve_chart.h"

#include "app/firing/firing_special.h"
#include "base/language.h"
#include "base/text.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

typedef enum { SET, CHAMBER, COLDEST, MEASURED } curve_of;

static double value_at(const ks_fired_curve *of, int i, curve_of what)
{
    const ks_firing_result *fired = of->fired;
    const ks_fire_point *point = &fired->points[i];
    double coldest = INFINITY;
    if (what == MEASURED)
        return ks_compared_at(of->measured, &of->measured->record.mean, point->time_h);
    if (what != COLDEST)
        return what == SET ? point->set_c : point->chamber_c;
    for (int v = 0; v < fired->n_levels; v++)
        coldest = fmin(coldest, point->middle_c[v]);
    return coldest;
}

#define SHOWN 2.0 /* times the heating: cooling has its hours in words */

/* All of it where a record is laid over it. */
static bool is_shown(const ks_fired_curve *of, int i)
{
    return of->measured || of->fired->points[i].time_h <= SHOWN * of->fired->hours;
}

/* Where there is no value, as of the set point once nothing is asked, the curve has no point; a
 * record has a gap there, as what is not finite makes one. */
static ks_curve make_curve(const ks_fired_curve *of, curve_of what, const char *name,
                           ks_arena *arena)
{
    const ks_firing_result *fired = of->fired;
    ks_point *at = KS_TAKE(arena, fired->n_points, ks_point);
    int n = 0;
    for (int i = 0; i < fired->n_points; i++) {
        double value = value_at(of, i, what);
        if (is_shown(of, i) && (isfinite(value) || what == MEASURED))
            at[n++] = (ks_point){fired->points[i].time_h,
                                 ks_show_number(&of->plan->order->display, KS_TEMP, value)};
    }
    return (ks_curve){
        .name = name, .n = n, .at = at, .dashed = what == SET, .dotted = what == MEASURED};
}

static void fill_rows(const ks_display *display, const ks_firing_result *fired,
                      const ks_firing_clock *clock, ks_arena *arena, ks_chart *chart)
{
    ks_chart_row *rows = KS_TAKE(arena, fired->n_segments + 1, ks_chart_row);
    rows[0] = (ks_chart_row){{"", ks_tr("clock"), ks_tr("after"), ks_show_unit(display, KS_RATE),
                              ks_arena_print(arena, "to %s", ks_show_unit(display, KS_TEMP)),
                              ks_tr("hold, min"), ks_tr("takes")}};
    for (int i = 0; i < fired->n_segments; i++) {
        const ks_segment_fired *s = &fired->segments[i];
        rows[i + 1] = (ks_chart_row){
            {ks_arena_print(arena, "%d", i + 1), ks_firing_clock_short(clock, s->from_h, arena),
             ks_show_hours(s->from_h, arena),
             s->asked.rate_c_h == 0
                 ? ks_tr("full")
                 : ks_arena_print(arena, "%.0f",
                                  ks_show_number(display, KS_RATE, s->asked.rate_c_h)),
             ks_arena_print(arena, "%.0f",
                            ks_show_number(display, KS_TEMP, ks_segment_target_c(s))),
             s->asked.hold_h > 0 ? ks_arena_print(arena, "%.0f", 60 * s->asked.hold_h) : "",
             ks_show_hours(s->hours, arena)}};
    }
    chart->n_rows = fired->n_segments + 1;
    chart->rows = rows;
}

static void fill_turns(const ks_display *display, const ks_firing_result *fired,
                       const ks_firing_clock *clock, ks_arena *arena, ks_chart *chart)
{
    ks_chart_row *rows = KS_TAKE(arena, fired->n_turns + 1, ks_chart_row);
    rows[0] = (ks_chart_row){{"", ks_tr("clock"), ks_tr("after"),
                              ks_arena_print(arena, "about %s", ks_show_unit(display, KS_TEMP)),
                              ks_tr("turn to"), ks_tr("lid"), ""}};
    for (int i = 0; i < fired->n_turns; i++) {
        const ks_turn *turn = &fired->turns[i];
        rows[i + 1] = (ks_chart_row){
            {ks_arena_print(arena, "%d", i + 1), ks_firing_clock_short(clock, turn->at_h, arena),
             ks_show_hours(turn->at_h, arena),
             ks_arena_print(arena, "%.0f", ks_show_number(display, KS_TEMP, turn->at_c)),
             ks_joined(turn->set, *turn->mind ? ", " : "", turn->mind, arena),
             turn->lid_propped ? ks_tr("propped") : "", ""}};
    }
    chart->n_rows = fired->n_turns + 1;
    chart->rows = rows;
}

/* By the clock where a start is known, else since switching on. */
static const char *moment(const ks_firing_clock *clock, double hours, ks_arena *arena)
{
    return clock->start.known ? ks_firing_clock_words(clock, hours, arena)
                              : ks_arena_print(arena, "after %s", ks_show_hours(hours, arena));
}

/* The three times, and at what temperature it is switched off. */
static const char *times_words(const ks_fired_curve *of, const ks_firing_clock *clock,
                               ks_arena *arena)
{
    const ks_firing_result *fired = of->fired;
    const char *on = clock->start.known ? ks_arena_print(arena, "On %s. ", moment(clock, 0, arena))
                                        : "",
               *down = "", *off = "", *open = ks_tr("Not cool enough to open within 10 days.");
    double open_h = ceil(fired->hours + fired->open_after_hours);
    if (isfinite(fired->cone_down_h))
        down = ks_arena_print(arena, "Cone %s down: %s. ", of->plan->loads[of->load].firing.cone,
                              moment(clock, fired->cone_down_h, arena));
    for (int i = 0; i < fired->n_segments; i++)
        if (fired->segments[i].ended_by_cone)
            off = ks_arena_print(
                arena, "Heating ends at %s, cone %s nearly down. ",
                ks_show_temp(&of->plan->order->display, fired->segments[i].to_c, arena),
                fired->schedule.end_cone);
    if (isfinite(open_h))
        open = ks_arena_print(arena, "Open: %s, not before.", moment(clock, open_h, arena));
    return ks_arena_print(arena, "%s%s%sProgramme ended: %s. %s", on, off, down,
                          moment(clock, fired->hours, arena), open);
}

enum { SPECIAL_SHOWN = 3 };

/* A paragraph each: the verdict, the times, what is special to this load, what holds always. */
static const char *note_words(const ks_fired_curve *of, const ks_firing_clock *clock,
                              ks_arena *arena)
{
    ks_special_lines special = ks_fire_special(of->fired, &of->plan->order->display, arena);
    const char *words = ks_joined(of->fired->verdict, "\n", times_words(of, clock, arena), arena);
    for (int i = 0; i < special.n && i < SPECIAL_SHOWN; i++)
        words = ks_joined(words, "\n", special.lines[i], arena);
    const char *always =
        ks_tr("Ventilate; never open it hot; be there when it should end; local code and a "
              "licensed electrician or gas fitter decide on its supply.");
    return ks_joined(words, "\n", always, arena);
}

static void fill_log(const ks_display *display, ks_arena *arena, ks_chart *chart)
{
    chart->blanks[0] = ks_tr("clock");
    chart->blanks[1] = ks_arena_print(arena, "kiln reads, %s", ks_show_unit(display, KS_TEMP));
    chart->blanks[2] = ks_tr("cones, colour, steam seen");
    chart->blanks[3] = ks_tr("turned, opened");
    chart->blanks[4] = ks_tr("by");
}

ks_chart ks_curve_chart(const ks_fired_curve *of, ks_arena *arena)
{
    const ks_display *display = &of->plan->order->display;
    ks_curve *curves = KS_TAKE(arena, 4, ks_curve);
    curves[0] = make_curve(of, SET, ks_tr("asked for"), arena);
    curves[1] = make_curve(of, CHAMBER, ks_tr("chamber"), arena);
    curves[2] = make_curve(of, COLDEST, ks_tr("coldest ware"), arena);
    if (of->measured)
        curves[3] = make_curve(of, MEASURED, ks_tr("measured"), arena);
    ks_firing_clock clock = ks_firing_clock_of(of->plan->order, &of->plan->loads[of->load]);
    ks_chart chart = {.title = ks_arena_print(arena, "Firing of load %d", of->load + 1),
                      .x_label = ks_tr("hours"),
                      .y_label = ks_show_unit(display, KS_TEMP),
                      .n_curves = of->measured ? 4 : 3,
                      .curves = curves,
                      .note = note_words(of, &clock, arena),
                      .plan = of->plan,
                      .load = of->load};
    if (of->fired->n_turns > 0)
        fill_turns(display, of->fired, &clock, arena, &chart);
    else
        fill_rows(display, of->fired, &clock, arena, &chart);
    fill_log(display, arena, &chart);
    return chart;
}
