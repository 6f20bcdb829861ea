#include "kilnstow/check.h"

#include "base/text.h"

#include <math.h>

/* The report in lines, for `kilnstow check` and kilnstow-check alike. */

static void tell_broken(ks_text *to, const ks_check_report *report)
{
    for (int i = 0; i < report->n_broken; i++) {
        const ks_rule_broken *broken = &report->broken[i];
        ks_text_print(to, "broken: %s: %s, short by %.3f %s\n", broken->rule, broken->where,
                      broken->by_mm, broken->unit);
    }
    ks_text_print(to, "%d place%s where a rule is broken.\n", report->n_broken,
                  report->n_broken == 1 ? "" : "s");
}

static void tell_kept(ks_text *to, const ks_check_report *report)
{
    for (int i = 0; i < report->n_rules; i++) {
        const ks_rule_kept *rule = &report->rules[i];
        if (isfinite(rule->tightest_mm))
            ks_text_print(to, "  %-14s kept, tightest %.3f %s: %s\n", rule->rule, rule->tightest_mm,
                          rule->unit, rule->where);
        else
            ks_text_print(to, "  %-14s kept\n", rule->rule);
    }
}

const char *ks_check_words(const ks_check_report *report, const ks_plan *plan, ks_arena *arena)
{
    ks_text text = {.arena = arena};
    if (!report->ok) {
        tell_broken(&text, report);
        return ks_text_end(&text);
    }
    tell_kept(&text, report);
    ks_text_print(&text, "Every rule is kept: %d pieces placed, %d waiting.\n",
                  ks_plan_placed(plan), ks_plan_waiting(plan));
    return ks_text_end(&text);
}
