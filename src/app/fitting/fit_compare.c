/* Several kilns compared: what each firing takes and costs. */
#include "app/fitting/fit_run.h"

#include "kilnstow/fire.h"

#include <math.h>
#include <stdlib.h>

/* Of the load planned around it in that kiln, if one was and it is in it. */
static ks_plan *plan_in(const ks_fit_outcome *out, const ks_fit_answer *answer, ks_arena *arena)
{
    for (int i = 0; i < out->n_loads; i++)
        if (out->loads[i].kiln == answer->kiln && out->loads[i].named_in == out->loads[i].n_named) {
            ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
            *plan = *out->loads[i].plan;
            return plan;
        }
    return ks_fit_plan(out->order, answer, arena);
}

static void cost(const ks_plan *plan, ks_fit_row *row, ks_arena *arena)
{
    ks_costing costing;
    ks_error untold = {0};
    if (plan->order->money && ks_cost(plan, &row->firing, &(ks_cost_options){.rule = -1}, arena,
                                      &costing, &untold) == KS_OK)
        row->cost_minor = costing.loads[0].total_minor;
}

static void fire(const ks_fit_outcome *out, ks_fit_row *row, ks_arena *arena)
{
    ks_plan *plan = plan_in(out, row->answer, arena);
    ks_fire_options options = ks_fire_default();
    ks_error err = {0};
    if (!plan || plan->n_loads == 0)
        return;
    options.range = true;
    row->fired = ks_fire(plan, &options, arena, &row->firing, &err) == KS_OK;
    if (row->fired)
        cost(plan, row, arena);
    else
        row->not_fired = ks_arena_text(arena, err.text);
}

/* What is lacking to go in. */
static double lack_of(const ks_fit_answer *answer)
{
    const ks_fit_way *way = &answer->visits[answer->tightest].best;
    return way->possible ? fmax(0, -way->around_mm) + fmax(0, -way->above_mm) : INFINITY;
}

/* What fits, what goes in but, what does not. */
static int class_of(const ks_fit_row *row)
{
    return row->answer->fits      ? row->fired && row->firing.reached ? 0 : 1
           : row->answer->goes_in ? 2
                                  : 3;
}

static int by_number(double a, double b)
{
    return (a > b) - (a < b);
}

/* Costs are compared where both are known. */
static int by_merit(const void *a, const void *b)
{
    const ks_fit_row *x = a, *y = b;
    int order = x->answer->piece - y->answer->piece;
    order = order ? order : class_of(x) - class_of(y);
    if (!order && x->cost_minor >= 0 && y->cost_minor >= 0)
        order = by_number((double)x->cost_minor, (double)y->cost_minor);
    if (!order && x->fired && y->fired)
        order = by_number(x->firing.energy.total, y->firing.energy.total);
    order = order ? order : by_number(lack_of(x->answer), lack_of(y->answer));
    return order ? order : (x->answer > y->answer) - (x->answer < y->answer);
}

void ks_fit_compare(ks_fit_outcome *out, ks_arena *arena)
{
    out->n_rows = out->n_answers;
    out->rows = KS_TAKE(arena, out->n_rows, ks_fit_row);
    for (int i = 0; i < out->n_rows; i++) {
        out->rows[i] = (ks_fit_row){.answer = &out->answers[i], .not_fired = "", .cost_minor = -1};
        if (out->answers[i].fits)
            fire(out, &out->rows[i], arena);
    }
    qsort(out->rows, (size_t)out->n_rows, sizeof *out->rows, by_merit);
}
