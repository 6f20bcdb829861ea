#include "kilnstow/check.h"

#include "base/language.h"
#include "base/text.h"
#include "studio/display.h"

#include <math.h>
#include <string.h>

/* The report in lines, for `kilnstow check` and kilnstow-check alike. */

/* Lengths and masses in the order's units, to the plan's grid; whole things as whole numbers. */
static const char *quantity(const ks_plan *plan, double value, const char *unit, ks_arena *arena)
{
    const ks_display *display = &plan->order->display;
    bool is_mass = strcmp(unit, "kg") == 0;
    if (!is_mass && strcmp(unit, "mm") != 0)
        return ks_arena_print(arena, "%.6g %s", value, ks_tr(unit));
    ks_quantity kind = is_mass ? KS_MASS : KS_LENGTH;
    const char *shown = ks_show_unit(display, kind);
    return ks_arena_print(arena, "%.*f %s", strcmp(shown, "mm") == 0 || is_mass ? 3 : 4,
                          ks_show_number(display, kind, value), shown);
}

static void tell_broken(ks_text *to, const ks_check_report *report, const ks_plan *plan)
{
    for (int i = 0; i < report->n_broken; i++) {
        const ks_rule_broken *broken = &report->broken[i];
        ks_text_print(to, "broken: %s: %s, short by %s\n", ks_tr(broken->rule), broken->where,
                      quantity(plan, broken->by_mm, broken->unit, to->arena));
    }
    ks_text_print(to,
                  ks_tr_count(report->n_broken, "%d place where a rule is broken.\n",
                              "%d places where a rule is broken.\n"),
                  report->n_broken);
}

static void tell_remarks(ks_text *to, const ks_check_report *report)
{
    for (int i = 0; i < report->n_remarks; i++)
        ks_text_print(to, "worth a look: %s: %s\n", report->remarks[i].rule,
                      report->remarks[i].where);
}

static void tell_kept(ks_text *to, const ks_check_report *report, const ks_plan *plan)
{
    for (int i = 0; i < report->n_rules; i++) {
        const ks_rule_kept *rule = &report->rules[i];
        if (isfinite(rule->tightest_mm))
            ks_text_print(to, "  %-14s kept, tightest %s: %s\n", ks_tr(rule->rule),
                          quantity(plan, rule->tightest_mm, rule->unit, to->arena), rule->where);
        else
            ks_text_print(to, "  %-14s kept\n", ks_tr(rule->rule));
    }
}

static const char *length(const ks_plan *plan, double mm, ks_arena *arena)
{
    return ks_show_spare(&plan->order->display, mm, arena);
}

static void tell_ruler(ks_text *to, const ks_ruler *ruler, const ks_plan *plan)
{
    double least = fmin(ruler->beside_mm, ruler->above_mm);
    const char *error =
        ks_quantity_print(KS_LENGTH, ruler->error_mm, plan->order->display.length, to->arena);
    if (least > 0 && isfinite(least))
        ks_text_print(to, "Were sizes up to %s out, nothing would touch: %s left at the least.\n",
                      error, length(plan, least, to->arena));
    else if (isfinite(least))
        ks_text_print(to, "Were sizes up to %s out, ware might touch what is next to it.\n", error);
    for (int i = 0; i < ruler->n; i++) {
        const ks_measure *of = &ruler->of[i];
        ks_text_print(to,
                      of->waits
                          ? ks_tr("measure again: the height of %s: lower by %s it would go in "
                                  "(%s)\n")
                          : ks_tr("measure again: the height of %s: %s decide (%s)\n"),
                      of->id, length(plan, of->decides_mm, to->arena), of->where);
    }
}

const char *ks_check_words(const ks_check_report *report, const ks_plan *plan, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    if (!report->ok) {
        tell_broken(&text, report, plan);
        tell_remarks(&text, report);
        return ks_text_end(&text);
    }
    tell_kept(&text, report, plan);
    tell_remarks(&text, report);
    tell_ruler(&text, &report->ruler, plan);
    int filled = ks_plan_filled(plan);
    if (filled > 0)
        ks_text_print(&text,
                      "Every rule is kept: %d pieces placed, %d that fit besides, %d waiting.\n",
                      ks_plan_placed(plan), filled, ks_plan_waiting(plan));
    else
        ks_text_print(&text, "Every rule is kept: %d pieces placed, %d waiting.\n",
                      ks_plan_placed(plan), ks_plan_waiting(plan));
    return ks_text_end(&text);
}
