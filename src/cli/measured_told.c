/* Where the kiln went another way than the simulation, by how much and when. */
#include "cli/measured_told.h"

#include "base/text.h"
#include "kilnstow/cone.h"
#include "studio/display.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { STRETCHES_TOLD = 6, NAME_LETTERS = 24 };
#define FULL_POWER 0.9

typedef struct {
    const ks_comparison *c;
    const ks_display *display;
    ks_arena *arena;
} telling;

static const char *hours_words(double hours, ks_arena *arena)
{
    int minutes = (int)floor(fabs(hours) * 60 + 0.5);
    return ks_arena_print(arena, "%s%d h %02d", hours < 0 && minutes > 0 ? "-" : "", minutes / 60,
                          minutes % 60);
}

static void file_told(const telling *t)
{
    const ks_measured *record = &t->c->record;
    const ks_measured_curve *mean = &record->mean;
    printf(ks_tr_count(record->n_curves,
                       "\nMeasured, by %s: %d readings of %d thermocouple over %s.\n",
                       "\nMeasured, by %s: %d readings of %d thermocouples over %s.\n"),
           record->file, mean->n, record->n_curves,
           hours_words(mean->time_h[mean->n - 1], t->arena));
    printf("  Its first reading lies %s %s switching on: %s.\n",
           hours_words(fabs(t->c->begins_h), t->arena), t->c->begins_h < 0 ? "before" : "after",
           t->c->begins_by);
}

static void stretch_told(const telling *t, const ks_measured_stretch *stretch)
{
    double over_k = stretch->measured_c - stretch->simulated_c;
    printf("  - %s from %s to %s, most after %s: %s, simulated %s (%s%s",
           over_k > 0 ? "ahead" : "behind", hours_words(stretch->from_h, t->arena),
           hours_words(stretch->to_h, t->arena), hours_words(stretch->at_h, t->arena),
           ks_show_temp(t->display, stretch->measured_c, t->arena),
           ks_show_temp(t->display, stretch->simulated_c, t->arena), over_k > 0 ? "+" : "",
           ks_show_warmer(t->display, over_k, t->arena));
    if (isfinite(stretch->late_h))
        printf(", %s %s", hours_words(fabs(stretch->late_h), t->arena),
               stretch->late_h > 0 ? "late" : "early");
    printf(")\n");
}

/* Their number is the answer's; the widest are told, in the order of time. */
static bool is_wide(const ks_comparison *c, int i)
{
    int wider = 0;
    double here = fabs(c->stretches[i].measured_c - c->stretches[i].simulated_c);
    for (int k = 0; k < c->n_stretches; k++) {
        double other = fabs(c->stretches[k].measured_c - c->stretches[k].simulated_c);
        wider += other > here || (other == here && k < i);
    }
    return wider < STRETCHES_TOLD;
}

static void course_told(const telling *t)
{
    const ks_comparison *c = t->c;
    printf("  While both heat, from %s to %s, it is %s %s the simulated chamber in the mean and %s "
           "aside (root mean square).\n",
           hours_words(c->from_h, t->arena), hours_words(c->to_h, t->arena),
           ks_show_warmer(t->display, fabs(c->mean_k), t->arena), c->mean_k < 0 ? "below" : "above",
           ks_show_warmer(t->display, c->rms_k, t->arena));
    if (c->n_stretches == 0)
        printf("  Nowhere is it more than %s aside, which a thermocouple may be.\n",
               ks_show_warmer(t->display, 10, t->arena));
    for (int i = 0; i < c->n_stretches; i++)
        if (is_wide(c, i))
            stretch_told(t, &c->stretches[i]);
    if (c->n_stretches > STRETCHES_TOLD)
        printf("  - and %d stretches less wide; --json lists all\n",
               c->n_stretches - STRETCHES_TOLD);
}

/* A heading of whatever letters, shortened and filled up to the column's width. */
static const char *name_shown(const char *name, ks_arena *arena)
{
    size_t bytes = 0, length = strlen(name);
    int letters = 0;
    for (; bytes < length && letters < NAME_LETTERS; letters++)
        bytes += (size_t)ks_utf8_next(name + bytes, length - bytes, NULL);
    return ks_arena_print(arena, "%.*s%*s", (int)bytes, name, NAME_LETTERS - letters, "");
}

static void curve_told(const telling *t, const char *name, const ks_curve_told *told)
{
    printf("  %s%10.0f%11s%15s   %s\n", name_shown(name, t->arena),
           ks_show_number(t->display, KS_TEMP, told->peak_c), hours_words(told->peak_h, t->arena),
           hours_words(told->heated_h, t->arena), ks_cone_print(told->cone, t->arena));
}

static void end_told(const telling *t)
{
    const ks_curve_told *mean = &t->c->mean, *simulated = &t->c->simulated;
    if (t->c->still_heating) {
        printf(
            "  The record ends while it still heats: what it peaks at, and its cone, are so far, "
            "not the firing's.\n");
        return;
    }
    double later_h = mean->heated_h - simulated->heated_h;
    printf("  Heating ends after %s, %s %s than simulated, at %s instead of %s.\n",
           hours_words(mean->heated_h, t->arena), hours_words(fabs(later_h), t->arena),
           later_h < 0 ? "earlier" : "later", ks_show_temp(t->display, mean->peak_c, t->arena),
           ks_show_temp(t->display, simulated->peak_c, t->arena));
}

static void peaks_told(const telling *t)
{
    const ks_measured *record = &t->c->record;
    /* one column more where the heading has a degree sign, which is two bytes */
    printf("\n  %-24s%11s%11s%15s   %s\n", "",
           ks_arena_print(t->arena, "peak, %s", ks_show_unit(t->display, KS_TEMP)), "after",
           "heating ends", "cone by heat work");
    for (int i = 0; i < record->n_curves; i++)
        curve_told(t, record->curves[i].name, &t->c->curves[i]);
    if (record->n_curves > 1)
        curve_told(t, "mean of them", &t->c->mean);
    curve_told(t, "simulated chamber", &t->c->simulated);
    printf("  The cone is what would bend beside the thermocouple; ware lags behind it, as the "
           "levels above do behind the simulated chamber.\n");
}

/* The widest stretch that lags where the simulated kiln gives all it has. */
static void weakness_told(const telling *t)
{
    for (int i = 0; i < t->c->n_stretches; i++) {
        const ks_measured_stretch *stretch = &t->c->stretches[i];
        if (stretch->measured_c > stretch->simulated_c || stretch->simulated_part < FULL_POWER)
            continue;
        printf("  It is behind after %s although the simulated kiln gives %.0f %% of its highest "
               "draw there: look at volts, elements and the load told (--volts, --elements-worn, "
               "--ware).\n",
               hours_words(stretch->at_h, t->arena), 100 * stretch->simulated_part);
        return;
    }
}

void ks_cli_measured_told(const ks_comparison *comparison, const ks_display *display,
                          ks_arena *arena)
{
    telling t = {comparison, display, arena};
    file_told(&t);
    course_told(&t);
    weakness_told(&t);
    end_told(&t);
    peaks_told(&t);
    for (int i = 0; i < comparison->record.n_remarks; i++)
        printf("  Of the file: %s.\n", comparison->record.remarks[i]);
}
