#include "app/curve_chart.h"

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
        if (isfinite(value) || what == MEASURED)
            at[n++] = (ks_point){fired->points[i].time_h,
                                 ks_show_number(&of->plan->order->display, KS_TEMP, value)};
    }
    return (ks_curve){
        .name = name, .n = n, .at = at, .dashed = what == SET, .dotted = what == MEASURED};
}

static void fill_rows(const ks_display *display, const ks_firing_result *fired, ks_arena *arena,
                      ks_chart *chart)
{
    ks_chart_row *rows = KS_TAKE(arena, fired->n_segments + 1, ks_chart_row);
    rows[0] = (ks_chart_row){{"", "after", ks_show_unit(display, KS_RATE),
                              ks_arena_print(arena, "to %s", ks_show_unit(display, KS_TEMP)),
                              "hold, min", "takes"}};
    for (int i = 0; i < fired->n_segments; i++) {
        const ks_segment_fired *s = &fired->segments[i];
        rows[i + 1] = (ks_chart_row){
            {ks_arena_print(arena, "%d", i + 1), ks_show_hours(s->from_h, arena),
             s->asked.rate_c_h == 0
                 ? "full"
                 : ks_arena_print(arena, "%.0f",
                                  ks_show_number(display, KS_RATE, s->asked.rate_c_h)),
             ks_arena_print(arena, "%.0f",
                            ks_show_number(display, KS_TEMP, ks_segment_target_c(s))),
             s->asked.hold_h > 0 ? ks_arena_print(arena, "%.0f", 60 * s->asked.hold_h) : "",
             ks_show_hours(s->hours, arena)}};
    }
    chart->n_rows = fired->n_segments + 1;
    chart->rows = rows;
    chart->blanks[0] = "clock";
    chart->blanks[1] = "reads";
    chart->blanks[2] = "seen, done";
}

static void fill_turns(const ks_display *display, const ks_firing_result *fired, ks_arena *arena,
                       ks_chart *chart)
{
    ks_chart_row *rows = KS_TAKE(arena, fired->n_turns + 1, ks_chart_row);
    rows[0] = (ks_chart_row){{"", "after", "turn to",
                              ks_arena_print(arena, "about %s", ks_show_unit(display, KS_TEMP)),
                              "lid", ""}};
    for (int i = 0; i < fired->n_turns; i++) {
        const ks_turn *turn = &fired->turns[i];
        rows[i + 1] = (ks_chart_row){
            {ks_arena_print(arena, "%d", i + 1), ks_show_hours(turn->at_h, arena),
             ks_arena_text_n(arena, turn->set, strcspn(turn->set, ",")),
             ks_arena_print(arena, "%.0f", ks_show_number(display, KS_TEMP, turn->at_c)),
             turn->lid_propped ? "propped" : "", turn->minded ? "off and on" : ""}};
    }
    chart->n_rows = fired->n_turns + 1;
    chart->rows = rows;
}

static const char *note_words(const ks_plan *plan, const ks_firing_result *fired, ks_arena *arena)
{
    const char *change = *fired->change ? ks_arena_print(arena, " Change: %s.", fired->change) : "";
    const char *open =
        isfinite(fired->open_after_hours)
            ? ks_arena_print(arena, " Safe to open after %s, not before.",
                             ks_show_hours(ceil(fired->hours + fired->open_after_hours), arena))
            : "";
    const char *off = "";
    for (int i = 0; i < fired->n_segments; i++)
        if (fired->segments[i].ended_by_cone)
            off =
                ks_arena_print(arena, " Off at %s, cone %s nearly down.",
                               ks_show_temp(&plan->order->display, fired->segments[i].to_c, arena),
                               fired->schedule.end_cone);
    const char *special = fired->n_strains > 0   ? fired->strains[0].says
                          : fired->n_special > 0 ? fired->cautions[0]
                                                 : "";
    return ks_arena_print(
        arena,
        "%s.%s%s%s%s%s%s Ventilate; never open it hot; be there when it should end. "
        "Plan %.8s.",
        fired->verdict, change, off, open, *special ? " Mind: " : "", special, *special ? "." : "",
        ks_plan_hash(plan, arena));
}

ks_chart ks_curve_chart(const ks_fired_curve *of, ks_arena *arena)
{
    const ks_display *display = &of->plan->order->display;
    ks_curve *curves = KS_TAKE(arena, 4, ks_curve);
    curves[0] = make_curve(of, SET, "asked for", arena);
    curves[1] = make_curve(of, CHAMBER, "chamber", arena);
    curves[2] = make_curve(of, COLDEST, "coldest ware", arena);
    if (of->measured)
        curves[3] = make_curve(of, MEASURED, "measured", arena);
    ks_chart chart = {.title = ks_arena_print(arena, "Firing of load %d", of->load + 1),
                      .x_label = "hours",
                      .y_label = ks_show_unit(display, KS_TEMP),
                      .n_curves = of->measured ? 4 : 3,
                      .curves = curves,
                      .note = note_words(of->plan, of->fired, arena)};
    fill_rows(display, of->fired, arena, &chart);
    if (of->fired->n_turns > 0)
        fill_turns(display, of->fired, arena, &chart);
    return chart;
}
