/* How large a form may be, as lines for people. */
#include "cli/fit_told.h"

#include "studio/display.h"
#include "studio/lifting.h"

#include <math.h>
#include <stdio.h>

/* No finer than clay is measured: steps of 5 mm, or a quarter of an inch, downwards. */
static const char *about(const ks_fit_outcome *outcome, double mm, ks_arena *arena)
{
    const ks_display *display = &outcome->order->display;
    bool inches = display->length && display->length[0] == 'i';
    double step = inches ? 25.4 / 4 : 5;
    return mm > 0 ? ks_show_length(display, floor(mm / step + 1e-6) * step, arena) : "none";
}

static void tell_head(const ks_fit_outcome *outcome)
{
    printf("    %12s", "high");
    for (int f = 0; f < KS_FEET; f++)
        if (outcome->foot < 0 || outcome->foot == f)
            printf("  %12s", ks_foot_names[f]);
}

static void tell_sizes(const ks_fit_outcome *outcome, const ks_fit_largest *largest,
                       const char *when, double factor, bool left, ks_arena *arena)
{
    printf("  %s:\n", when);
    tell_head(outcome);
    printf(left ? "  left above it\n" : "\n");
    for (int i = 0; i < largest->n_sizes; i++) {
        const ks_fit_size *size = &largest->sizes[i];
        printf("    %12s", about(outcome, factor * size->high_mm, arena));
        for (int f = 0; f < KS_FEET; f++)
            if (outcome->foot < 0 || outcome->foot == f)
                printf("  %12s", about(outcome, factor * size->wide_mm[f], arena));
        printf(left ? "  %13s\n" : "\n", about(outcome, size->left_above_mm, arena));
    }
}

static const char *stands_on(const ks_fit_outcome *outcome, ks_arena *arena)
{
    const ks_piece *piece = &outcome->order->pieces[outcome->largest_piece];
    const ks_setter *setter = &piece->setter;
    const ks_display *display = &outcome->order->display;
    if (!piece->has_setter)
        return "straight on the shelf";
    return ks_arena_print(arena, "on a %s %s thick, %s beyond its foot",
                          ks_part_kind_name(setter->kind),
                          ks_show_length(display, setter->thickness_mm, arena),
                          ks_show_length(display, setter->margin_mm, arena));
}

/* Of the tallest; of a round one unless another foot was asked about. */
static void tell_weight(const ks_fit_outcome *outcome, const ks_fit_largest *largest,
                        ks_arena *arena)
{
    const ks_order *order = outcome->order;
    ks_foot_shape foot = outcome->foot < 0 ? KS_FOOT_ROUND : (ks_foot_shape)outcome->foot;
    const ks_fit_size *size = &largest->sizes[0];
    if (!(size->wide_mm[foot] > 0))
        return;
    ks_piece form = ks_fit_form_of(&order->pieces[outcome->largest_piece], foot,
                                   size->wide_mm[foot], size->high_mm, arena);
    ks_lift lift = ks_lift_of(&order->rules, &form, largest->kiln);
    printf("  walls as thick as its own, the tallest %s one weighs about %s; to lift it in: %s\n",
           ks_foot_names[foot], ks_show_burden(&order->display, lift.mass_kg, 0, arena),
           ks_lift_who(&lift, &order->display, arena));
}

void ks_fit_print_largest(const ks_fit_outcome *outcome, const ks_fit_largest *largest,
                          ks_arena *arena)
{
    const ks_piece *piece = &outcome->order->pieces[outcome->largest_piece];
    printf("kiln %s: as large as this may a form of %s\'s clay be, %s", largest->kiln->id,
           piece->id, stands_on(outcome, arena));
    if (outcome->n_below > 0)
        printf(", over %d %s of other ware", outcome->n_below,
               outcome->n_below == 1 ? "level" : "levels");
    printf("\n");
    if (largest->n_sizes == 0) {
        if (largest->highest_mm > 0)
            printf("  none so high goes in: %s is the most, as it goes in\n",
                   about(outcome, largest->highest_mm, arena));
        else
            printf("  none goes in so: ask for less under it, or another kiln\n");
        return;
    }
    char *now = ks_arena_print(arena, "as it goes in, %s", ks_stage_name(piece->stage));
    tell_sizes(outcome, largest,
               "made of wet clay, at most (even if it shrinks as little as it may)", largest->wet,
               false, arena);
    tell_sizes(outcome, largest, now, 1, true, arena);
    tell_sizes(outcome, largest, "fired, about", largest->fired, false, arena);
    printf("  as wide as this all the way up, foot and body alike; an oval is two thirds as broad "
           "as long\n");
    tell_weight(outcome, largest, arena);
    if (largest->assumed)
        printf("  its clay is not told: 8 to 15 %% of shrinkage in all is taken; fire a test bar "
               "first\n");
}
