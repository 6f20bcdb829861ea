#include "edges.h"

#include "check.h"
#include "kilnstow/check.h"

#include <string.h>

static const char *const kind_names[] = {"circle", "rounded", "concave"};
static const double near = 1e-6;

static const ks_rule_kept *kept(const ks_check_report *report, const char *rule)
{
    for (int i = 0; i < report->n_rules; i++)
        if (strcmp(report->rules[i].rule, rule) == 0)
            return &report->rules[i];
    return NULL;
}

static bool is_one_of(const char *rule, const char *a, const char *b)
{
    return strcmp(rule, a) == 0 || (b && strcmp(rule, b) == 0);
}

/* The first break of the rule; NULL if there is none, or one of a rule that is neither. */
static const ks_rule_broken *only_broken(const ks_check_report *report, const char *rule,
                                         const char *also)
{
    const ks_rule_broken *found = NULL;
    for (int i = 0; i < report->n_broken; i++) {
        if (!is_one_of(report->broken[i].rule, rule, also))
            return NULL;
        if (!found && strcmp(report->broken[i].rule, rule) == 0)
            found = &report->broken[i];
    }
    return report->ok ? NULL : found;
}

static bool is_there(const char *found, const char *wanted)
{
    return !wanted || strcmp(found, wanted) == 0;
}

/* With nothing to spare the last bit decides under which of two rules it is told. */
static const ks_rule_kept *tighter(const edge *row, const ks_check_report *report)
{
    const ks_rule_kept *rule = kept(report, row->rule);
    const ks_rule_kept *other = row->told ? kept(report, row->told) : rule;
    return rule && other && other->tightest_mm < rule->tightest_mm ? other : rule;
}

static double exactness(const edge *row)
{
    return row->within > 0 ? row->within : near;
}

static bool row_is_kept(const edge *row, const ks_check_report *report, double spare)
{
    const ks_rule_kept *rule = tighter(row, report);
    if (!rule || !report->ok)
        return false;
    if (row->sense == SAME)
        return row->touching ? fabs(rule->tightest_mm) <= near : rule->tightest_mm >= 0;
    double least = row->touching ? 0 : spare;
    return fabs(rule->tightest_mm - least) <= exactness(row) &&
           (least <= 0 || is_there(rule->where, row->where));
}

static bool row_is_broken(const edge *row, const ks_check_report *report, double by)
{
    const ks_rule_kept *rule = kept(report, row->rule);
    const ks_rule_broken *found = only_broken(report, row->rule, row->also);
    return rule && found && fabs(rule->tightest_mm + by) <= exactness(row) &&
           fabs(found->by_mm - by) <= exactness(row) && is_there(found->where, row->where);
}

static ks_check_report judged(bare_plan *s)
{
    ks_check_report report;
    if (!s->load->steps)
        bare_plan_list_steps(s);
    ks_check(s->plan, s->arena, &report);
    return report;
}

static void tell(const char *rule, const ks_check_report *report)
{
    const ks_rule_kept *known = kept(report, rule);
    if (known)
        print_error("  tightest: %.9g at %s\n", known->tightest_mm, known->where);
    for (int i = 0; i < report->n_broken; i++)
        print_error("  broken: %s: %s by %.9g %s\n", report->broken[i].rule,
                    report->broken[i].where, report->broken[i].by_mm, report->broken[i].unit);
}

static bool try_edge(const edge *row, shape_kind a, shape_kind b, double spare)
{
    ks_arena arena = {0};
    bare_plan s = bare_plan_made(&arena);
    row->build(&s, a, b, spare);
    ks_check_report report = judged(&s);
    bool breaks = spare < 0 || (row->sense == SAME && spare > 0);
    bool right =
        breaks ? row_is_broken(row, &report, fabs(spare)) : row_is_kept(row, &report, spare);
    if (!right) {
        print_error("%s, %s (%s, %s), %g to spare:\n", row->rule, row->name, kind_names[a],
                    kind_names[b], spare);
        tell(row->rule, &report);
    }
    ks_arena_finish(&arena);
    return right;
}

static int try_kinds(const edge *row)
{
    int wrong = 0;
    double step = row->step > 0 ? row->step : 0.01;
    for (int a = 0; a < (row->kinds > 0 ? N_KINDS : 1); a++)
        for (int b = 0; b < (row->kinds > 1 ? N_KINDS : 1); b++)
            for (int sign = -1; sign <= 1; sign++)
                wrong += !try_edge(row, (shape_kind)a, (shape_kind)b, sign * step);
    return wrong;
}

void edges_hold(const edge *rows, int n)
{
    int wrong = 0;
    for (int i = 0; i < n; i++)
        wrong += try_kinds(&rows[i]);
    assert_int_equal(wrong, 0);
}

static bool try_slip(const slip *row, void (*base)(bare_plan *s))
{
    ks_arena arena = {0};
    bare_plan s = bare_plan_made(&arena);
    if (base)
        base(&s);
    row->change(&s);
    ks_check_report report = judged(&s);
    const ks_rule_broken *found = only_broken(&report, row->rule, row->also);
    bool right = found && (row->by <= 0 || fabs(found->by_mm - row->by) <= near) &&
                 is_there(found->where, row->where);
    if (!right) {
        print_error("%s, %s: by %g at %s was awaited:\n", row->rule, row->name, row->by,
                    row->where ? row->where : "any place");
        tell(row->rule, &report);
    }
    ks_arena_finish(&arena);
    return right;
}

void slips_are_found(void (*base)(bare_plan *s), const slip *rows, int n)
{
    int wrong = 0;
    for (int i = 0; i < n; i++)
        wrong += !try_slip(&rows[i], base);
    assert_int_equal(wrong, 0);
}

static bool try_keeper(const keeper *row)
{
    ks_arena arena = {0};
    bare_plan s = bare_plan_made(&arena);
    row->build(&s);
    ks_check_report report = judged(&s);
    const ks_rule_kept *rule = kept(&report, row->rule);
    bool right = report.ok && rule && !(fabs(rule->tightest_mm - row->spare) > near);
    if (!right) {
        print_error("%s, %s: %g to spare was awaited:\n", row->rule, row->name, row->spare);
        tell(row->rule, &report);
    }
    ks_arena_finish(&arena);
    return right;
}

void keepers_are_kept(const keeper *rows, int n)
{
    int wrong = 0;
    for (int i = 0; i < n; i++)
        wrong += !try_keeper(&rows[i]);
    assert_int_equal(wrong, 0);
}
