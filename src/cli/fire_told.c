/* What the technician reads: first what is special to this load, then the tables, last what holds
 * for every firing. */
#include "cli/fire_told.h"

#include "app/firing/firing_special.h"
#include "base/file.h"
#include "base/text.h"
#include "cli/measured_told.h"
#include "kilnstow/cone.h"
#include "studio/display.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

typedef struct {
    const ks_plan *plan;
    const ks_load *load;
    const ks_firing_result *fired;
    const ks_learnt *learnt; /* NULL = no record was told */
    const ks_display *display;
    ks_firing_clock clock;
    ks_arena *arena;
} telling;

/* "  Thursday 18:20", "" while no start is known. */
static const char *clock_words(const telling *t, double hours)
{
    const char *words = ks_firing_clock_words(&t->clock, hours, t->arena);
    return *words ? ks_joined("  ", words, "", t->arena) : "";
}

/* When it may be opened as it is cooled, how far that may be out, and what a propped lid saves. */
static void opening_told(const telling *t)
{
    const ks_firing_result *fired = t->fired;
    double open_h = ceil(fired->hours + fired->open_after_hours);
    if (!isfinite(open_h)) {
        if (!isnan(open_h))
            printf("  safe to open     not within 10 days\n");
        return;
    }
    printf("  safe to open     after %9s%s%s: all ware below %s", ks_show_hours(open_h, t->arena),
           clock_words(t, open_h), t->clock.start.known ? ", not before" : "",
           ks_show_temp(t->display, fired->open_c, t->arena));
    if (fired->open_high_h > fired->open_low_h)
        printf(" (nine kilns of ten: %.0f to %.0f h)", fired->hours + fired->open_low_h,
               fired->hours + fired->open_high_h);
    printf("\n");
    double sooner_h = ceil(fired->hours + fired->open_propped_h);
    if (sooner_h < open_h)
        printf("    or             after %9s%s, propped open by a hand's breadth from %s down "
               "(common practice)\n",
               ks_show_hours(sooner_h, t->arena), clock_words(t, sooner_h),
               ks_show_temp(t->display, fired->propped_from_c, t->arena));
}

static void times_told(const telling *t)
{
    const ks_firing_result *fired = t->fired;
    if (t->clock.start.known)
        printf("\n  switched on               %s%s\n", clock_words(t, 0),
               t->clock.start.clock_assumed ? " (the hour is assumed)" : "");
    else
        printf("\n");
    if (isfinite(fired->cone_down_h))
        printf("  cone %-4s down   after %9s%s\n", t->load->firing.cone,
               ks_show_hours(fired->cone_down_h, t->arena), clock_words(t, fired->cone_down_h));
    printf("  programme ended  after %9s%s\n", ks_show_hours(fired->hours, t->arena),
           clock_words(t, fired->hours));
    opening_told(t);
}

enum { OUTSIDE_TOLD = 8 };

static void outside_told(const telling *t)
{
    const ks_firing_result *fired = t->fired;
    if (fired->n_outside > 0)
        printf("\n  outside their range:\n");
    for (int i = 0; i < fired->n_outside; i++) {
        if (i == OUTSIDE_TOLD && fired->n_outside > OUTSIDE_TOLD + 1) {
            printf("  - and %d places more; --json lists all\n", fired->n_outside - i);
            break;
        }
        const ks_piece_outside *piece = &fired->outside[i];
        const char *low = ks_cone(piece->asked_low)->name, *high = ks_cone(piece->asked_high)->name;
        printf("  - %d x %s, level %s, %s: asked cone %s%s%s, sees %s", piece->copies, piece->id,
               fired->levels[piece->level].name, piece->middle ? "middle" : "edge", low,
               piece->asked_low == piece->asked_high ? "" : " to ",
               piece->asked_low == piece->asked_high ? "" : high,
               ks_cone_print(piece->saw, t->arena));
        printf("%s%s\n", *fired->change ? "" : "; ", *fired->change ? "" : piece->elsewhere);
    }
}

enum { SPECIAL_FIRST = 3 };

static void special_told(const ks_special_lines *s, int from, int to)
{
    for (int i = from; i < to && i < s->n; i++)
        printf("  %s\n", s->lines[i]);
}

/* By how many firings of its own meter the kiln was tuned, or that it was not. */
static void learnt_told(const telling *t)
{
    const ks_learnt *learnt = t->learnt;
    if (!learnt)
        return;
    if (learnt->n == 0) {
        printf("Not tuned: the record has no metered firing of %s.\n", learnt->kiln);
        return;
    }
    printf("Tuned by %d metered firings of %s: its lining conducts %.2f times what its materials "
           "would.\n",
           learnt->n, learnt->kiln, learnt->tuning.as_built);
    for (int i = 0; i < learnt->n_warnings; i++)
        printf("  %s\n", ks_tr(learnt->warnings[i]));
}

static void energy_told(const telling *t)
{
    const ks_firing_result *fired = t->fired;
    const ks_energy *energy = &fired->energy;
    const struct {
        const char *what;
        double kwh;
    } uses[] = {{"in ware and setters", energy->ware}, {"in shelves and posts", energy->furniture},
                {"in the lining", energy->lining},     {"through the casing", energy->casing},
                {"with the air", energy->vent},        {"water and chemistry", energy->chemistry},
                {"up the flue", energy->flue}};
    printf("\n%.1f kWh from the meter (90 %% range %.0f to %.0f); highest draw "
           "%.1f kW",
           energy->total, fired->low_kwh, fired->high_kwh, fired->peak_kw);
    if (fired->amps > 0)
        printf(", %.0f A: a circuit of %.0f A or more", fired->amps,
               ceil(fired->circuit_amps - 0.05));
    printf(".\n");
    learnt_told(t);
    for (size_t i = 0; i < sizeof uses / sizeof *uses; i++)
        if (fabs(uses[i].kwh) >= 0.05)
            printf("  %8.1f kWh %5.1f %%  %s\n", uses[i].kwh, 100 * uses[i].kwh / energy->total,
                   uses[i].what);
}

static double width(const ks_fire_doubt *doubt)
{
    return doubt->high_kwh - doubt->low_kwh;
}

/* The widest doubt that is less wide than the last one told, -1 = none. */
static int next_widest(const ks_firing_result *fired, int last)
{
    int next = -1;
    for (int i = 0; i < fired->n_doubts; i++) {
        bool after = last < 0 || width(&fired->doubts[i]) < width(&fired->doubts[last]) ||
                     (width(&fired->doubts[i]) == width(&fired->doubts[last]) && i > last);
        if (after && (next < 0 || width(&fired->doubts[i]) > width(&fired->doubts[next])))
            next = i;
    }
    return next;
}

static const char *doubt_words(const telling *t, int i)
{
    const ks_fire_doubt *doubt = &t->fired->doubts[i];
    return ks_arena_print(t->arena, "%s (%+.1f to %+.1f)", doubt->input,
                          doubt->low_kwh - t->fired->energy.total,
                          doubt->high_kwh - t->fired->energy.total);
}

/* In one sentence, then what each doubt does, the widest first. */
static void doubts_told(const telling *t)
{
    const ks_firing_result *fired = t->fired;
    int first = next_widest(fired, -1), second = first < 0 ? -1 : next_widest(fired, first);
    if (second < 0)
        return;
    printf(
        "\nNine firings of ten take %.0f to %.0f kWh; what is least known is the %s and the %s.\n"
        "Each doubt, moved by one sigma:\n",
        fired->low_kwh, fired->high_kwh, doubt_words(t, first), doubt_words(t, second));
    for (int i = first; i >= 0; i = next_widest(fired, i)) {
        const ks_fire_doubt *doubt = &fired->doubts[i];
        if (width(doubt) < 0.05 && !doubt->fails)
            continue;
        printf("  %6.1f %+6.1f kWh  %s: %s%s\n", doubt->low_kwh - fired->energy.total,
               doubt->high_kwh - fired->energy.total, doubt->input, doubt->spread,
               doubt->fails ? "; on one side the kiln does not get there" : "");
    }
}

static void segment_told(const telling *t, int i)
{
    const ks_segment_fired *segment = &t->fired->segments[i];
    const char *rate = "full";
    if (segment->asked.rate_c_h != 0)
        rate = ks_arena_print(t->arena, "%.0f",
                              ks_show_number(t->display, KS_RATE, segment->asked.rate_c_h));
    printf("  %-3d%11s%9s%9s%8.0f%13.0f%9s  %s\n", i + 1,
           ks_firing_clock_short(&t->clock, segment->from_h, t->arena),
           ks_show_hours(segment->from_h, t->arena), rate,
           ks_show_number(t->display, KS_TEMP, ks_segment_target_c(segment)),
           60 * segment->asked.hold_h, ks_show_hours(segment->hours, t->arena), segment->reason);
    if (segment->ended_by_cone)
        printf("     off at %s: cone %s is then nearly down, and cooling takes it the rest\n",
               ks_show_temp(t->display, segment->to_c, t->arena), t->fired->schedule.end_cone);
}

static void schedule_told(const telling *t)
{
    const char *rate = ks_show_unit(t->display, KS_RATE), *to = ks_show_unit(t->display, KS_TEMP);
    /* one column more wherever the heading has a degree sign, which is two bytes */
    printf("\n  %-3s%11s%9s%10s%9s%13s%9s\n", "", t->clock.start.known ? "clock" : "", "after",
           rate, ks_arena_print(t->arena, "to %s", to), "hold, min", "takes");
    for (int i = 0; i < t->fired->n_segments; i++)
        segment_told(t, i);
}

/* A kiln without a controller: what to turn, when, and what to look for. */
static void turns_told(const telling *t)
{
    printf("\n  %-3s%11s%9s%10s  %-40s %s\n", "", t->clock.start.known ? "clock" : "", "after",
           ks_arena_print(t->arena, "about %s", ks_show_unit(t->display, KS_TEMP)), "turn to",
           "when you see");
    for (int i = 0; i < t->fired->n_turns; i++) {
        const ks_turn *turn = &t->fired->turns[i];
        printf("  %-3d%11s%9s%9.0f  %-40s %s\n", i + 1,
               ks_firing_clock_short(&t->clock, turn->at_h, t->arena),
               ks_show_hours(turn->at_h, t->arena), ks_show_number(t->display, KS_TEMP, turn->at_c),
               turn->set, turn->look);
        if (*turn->mind)
            printf("%36s%s\n", "", turn->mind);
        if (turn->lid_propped)
            printf("%36s%s\n", "", ks_tr("lid propped"));
    }
}

static void levels_told(const telling *t)
{
    const char *mass = ks_show_unit(t->display, KS_MASS),
               *degrees = ks_show_unit(t->display, KS_TEMP);
    printf("\n  %-9s%10s%14s%14s%16s   %s\n", "level", ks_arena_print(t->arena, "ware, %s", mass),
           ks_arena_print(t->arena, "shelves, %s", mass),
           ks_arena_print(t->arena, "edge to %s", degrees),
           ks_arena_print(t->arena, "middle to %s", degrees), "cone at edge, middle");
    bool between = false;
    for (int v = 0; v < t->fired->n_levels; v++) {
        const ks_level_fired *level = &t->fired->levels[v];
        printf("  %-9s%10.1f%14.1f%13.0f%15.0f   ", level->name,
               ks_show_number(t->display, KS_MASS, level->ware_kg),
               ks_show_number(t->display, KS_MASS, level->furniture_kg),
               ks_show_number(t->display, KS_TEMP, level->peak_edge_c),
               ks_show_number(t->display, KS_TEMP, level->peak_middle_c));
        const char *edge = ks_cone_print(level->cone_edge, t->arena),
                   *middle = ks_cone_print(level->cone_middle, t->arena);
        if (level->ware_kg > 0)
            printf("%s, %s\n", edge, middle);
        else
            printf("no ware\n");
        between |= level->ware_kg > 0 && (strchr(edge, '+') || strchr(middle, '+'));
    }
    if (between)
        puts(ks_tr("  a cone with +0.4 behind it: four tenths of the way from it to the next"));
}

static void lines_told(const char *head, int n, const char *const *lines)
{
    if (n > 0)
        printf("\n%s\n", head);
    for (int i = 0; i < n; i++)
        printf("  - %s\n", lines[i]);
}

void ks_cli_fire_told(const ks_fire_outcome *outcome, int i, ks_arena *arena)
{
    const ks_order *order = outcome->plan->order;
    const ks_load *load = &outcome->plan->loads[outcome->loads[i]];
    telling t = {outcome->plan,
                 load,
                 &outcome->fired[i],
                 outcome->learnt ? &outcome->learnt[i] : NULL,
                 &order->display,
                 ks_firing_clock_of(order, load),
                 arena};
    printf("%sLoad %d: %s\n%s\n", i > 0 ? "\n" : "", outcome->loads[i] + 1,
           load->kiln >= 0 ? order->kilns[load->kiln].name : load->kiln_id, t.fired->verdict);
    ks_special_lines first = ks_fire_special(t.fired, t.display, arena);
    special_told(&first, 0, SPECIAL_FIRST);
    times_told(&t);
    if (t.fired->n_turns > 0)
        turns_told(&t);
    else
        schedule_told(&t);
    if (first.n > SPECIAL_FIRST)
        printf("\n");
    special_told(&first, SPECIAL_FIRST, first.n);
    outside_told(&t);
    levels_told(&t);
    if (outcome->measured)
        ks_cli_measured_told(outcome->measured, t.display, arena);
    energy_told(&t);
    doubts_told(&t);
    lines_told("Assumed, since the order does not say:", t.fired->n_assumed, t.fired->assumed);
    if (outcome->curves && !ks_path_is_standard(outcome->curves[i]))
        printf("\nCurve written to %s.\n", outcome->curves[i]);
}

/* Whether an earlier load has told the line. */
static bool told_before(const ks_fire_outcome *outcome, int i, const char *line)
{
    for (int k = 0; k < i; k++)
        for (int c = outcome->fired[k].n_special; c < outcome->fired[k].n_cautions; c++)
            if (strcmp(outcome->fired[k].cautions[c], line) == 0)
                return true;
    return false;
}

void ks_cli_fire_cautions_told(const ks_fire_outcome *outcome)
{
    printf("\nWith every firing:\n");
    for (int i = 0; i < outcome->n_loads; i++) {
        const ks_firing_result *fired = &outcome->fired[i];
        for (int c = fired->n_special; c < fired->n_cautions; c++)
            if (!told_before(outcome, i, fired->cautions[c]))
                printf("  - %s\n", fired->cautions[c]);
    }
}
