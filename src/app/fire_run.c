#include "app/fire_run.h"

#include "app/curve_file.h"
#include "app/machine/target.h"
#include "base/file.h"
#include "base/units.h"

#include <string.h>

static bool style_known(const char *name)
{
    for (const ks_schedule_style *style = ks_schedule_styles(); style->name; style++)
        if (strcmp(style->name, name) == 0)
            return true;
    return false;
}

static ks_status schedule_unknown(const char *name, ks_arena *arena, ks_error *err)
{
    const char *known = "";
    for (const ks_schedule_style *style = ks_schedule_styles(); style->name; style++)
        known = ks_arena_print(arena, "%s%s%s", known, *known ? ", " : "", style->name);
    return ks_fail(
        err, KS_BAD_USAGE,
        "--schedule: found \"%s\"; it takes a schedule's file (.json), the id of one in the "
        "order, or a kind worked out here: %s",
        name, known);
}

/* What --schedule means: a file, one of the order's, or a kind that is worked out. */
static ks_status schedule_chosen(const ks_fire_job *job, const ks_order *order, ks_arena *arena,
                                 ks_fire_options *options, ks_error *err)
{
    if (!job->schedule)
        return KS_OK;
    if (ks_path_ends(job->schedule, ".json")) {
        ks_schedule *read = KS_TAKE(arena, 1, ks_schedule);
        options->schedule = read;
        return ks_schedule_read(job->schedule, arena, read, err);
    }
    options->schedule = ks_order_schedule(order, job->schedule);
    if (options->schedule)
        return KS_OK;
    options->style = job->schedule;
    return style_known(job->schedule) ? KS_OK : schedule_unknown(job->schedule, arena, err);
}

static ks_status loads_chosen(const ks_fire_job *job, const ks_plan *plan, ks_arena *arena,
                              ks_fire_outcome *out, ks_error *err)
{
    if (job->load >= plan->n_loads)
        return ks_fail(err, KS_BAD_USAGE, "--load: found %d; the plan has %d", job->load + 1,
                       plan->n_loads);
    out->n_loads = job->load < 0 ? plan->n_loads : 1;
    out->loads = KS_TAKE(arena, out->n_loads, int);
    for (int i = 0; i < out->n_loads; i++)
        out->loads[i] = job->load < 0 ? i : job->load;
    return KS_OK;
}

/* What the record knows of the kiln of each load; asked once for each kiln. */
static ks_status learn(const ks_fire_job *job, const ks_plan *plan, ks_arena *arena,
                       ks_fire_outcome *out, ks_error *err)
{
    ks_book *book = NULL;
    if (!job->book_path)
        return KS_OK;
    out->learnt = KS_TAKE(arena, out->n_loads, ks_learnt);
    ks_status status = ks_book_open(job->book_path, KS_BOOK_LOOK, &book, err);
    for (int i = 0; i < out->n_loads && !status; i++) {
        const char *kiln = plan->loads[out->loads[i]].kiln_id;
        int known = 0;
        while (known < i && strcmp(out->learnt[known].kiln, kiln) != 0)
            known++;
        if (known < i)
            out->learnt[i] = out->learnt[known];
        else
            status = ks_book_learn(book, kiln, arena, &out->learnt[i], err);
    }
    ks_book_close(book);
    return status;
}

static ks_status read_temp(const char *option, const char *text, const ks_order *order,
                           double least_c, double most_c, double *temp_c, ks_error *err)
{
    double told = 0;
    const char *unit = order->display.temp;
    if (!text)
        return KS_OK;
    if (ks_quantity_parse(KS_TEMP, text, unit, &told) || !(told >= least_c && told <= most_c))
        return ks_fail(err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it is a temperature from %g to %g C, as \"20 C\" or "
                       "\"68 F\"; without a unit it is read in the order's own, \"%s\"",
                       option, text, least_c, most_c, unit);
    *temp_c = told;
    return KS_OK;
}

static ks_status read_temps(const ks_fire_job *job, const ks_order *order, ks_fire_options *options,
                            ks_error *err)
{
    ks_status status = read_temp("room", job->room, order, -30, 60, &options->room_c, err);
    if (!status)
        status = read_temp("vent-off", job->vent_off, order, 0, 1700, &options->vent_off_c, err);
    return status
               ? status
               : read_temp("cool-from", job->cool_from, order, 0, 1700, &options->cool_from_c, err);
}

ks_status ks_fire_loads(const ks_fire_job *job, ks_plan *plan, ks_arena *arena,
                        ks_fire_outcome *out, ks_error *err)
{
    ks_fire_options options = job->options;
    ks_materials materials;
    *out = (ks_fire_outcome){.plan = plan};
    ks_status status = loads_chosen(job, plan, arena, out, err);
    if (!status)
        status = read_temps(job, plan->order, &options, err);
    if (!status && job->materials_path) {
        status = ks_materials_read(job->materials_path, arena, &materials, err);
        options.materials = &materials;
    }
    if (!status)
        status = schedule_chosen(job, plan->order, arena, &options, err);
    if (!status)
        status = learn(job, plan, arena, out, err);
    out->fired = KS_TAKE(arena, out->n_loads, ks_firing_result);
    for (int i = 0; i < out->n_loads && !status; i++) {
        options.load = out->loads[i];
        if (out->learnt)
            ks_learnt_apply(&out->learnt[i], &options);
        status = ks_fire(plan, &options, arena, &out->fired[i], err);
    }
    return status;
}

/* "curve.csv" is "curve-2.csv" for the second of several loads. */
static const char *curve_path(const ks_fire_job *job, const ks_fire_outcome *out, int i,
                              ks_arena *arena)
{
    const char *dot = strrchr(job->curve_path, '.');
    if (out->n_loads == 1 || !dot)
        return job->curve_path;
    return ks_arena_print(arena, "%.*s-%d%s", (int)(dot - job->curve_path), job->curve_path,
                          out->loads[i] + 1, dot);
}

/* All of them before the first is simulated. */
static ks_status curves_tried(const ks_fire_job *job, const ks_plan *plan, ks_fire_outcome *out,
                              ks_arena *arena, ks_error *err)
{
    ks_inputs inputs = {.arena = arena};
    ks_target_kind kind;
    ks_inputs_add_order(&inputs, plan->order);
    ks_inputs_add(&inputs, job->materials_path);
    ks_inputs_add(&inputs, job->measured_path);
    ks_inputs_add(&inputs, job->book_path);
    ks_inputs_add(&inputs, job->schedule); /* where it is no file it is none that can be replaced */
    ks_status status = ks_curve_kind(job->curve_path, &kind, err);
    if (!status)
        status = loads_chosen(job, plan, arena, out, err);
    if (!status && ks_path_is_standard(job->curve_path) && out->n_loads > 1)
        status = ks_fail(err, KS_BAD_USAGE,
                         "--curve: found - for %d loads; choose one with --load, or name a file",
                         out->n_loads);
    out->curves = KS_TAKE(arena, out->n_loads, const char *);
    for (int i = 0; i < out->n_loads && !status; i++) {
        out->curves[i] = curve_path(job, out, i, arena);
        status = ks_target_try(out->curves[i], kind, &inputs, job->force, err);
    }
    return status;
}

static ks_status measured_alone(const ks_fire_job *job, const ks_plan *plan, ks_error *err)
{
    if (job->load >= 0 || plan->n_loads == 1)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--measured: found one record for %d loads; choose the load with --load",
                   plan->n_loads);
}

static ks_status compare(const ks_fire_job *job, ks_fire_outcome *out, ks_arena *arena,
                         ks_error *err)
{
    const ks_firing_result *fired = &out->fired[0];
    ks_measured record;
    ks_status status = ks_measured_read(
        job->measured_path, (ks_measured_hint){fired->hours, fired->top_c}, arena, &record, err);
    if (status)
        return status;
    out->measured = KS_TAKE(arena, 1, ks_comparison);
    return ks_measured_compare(&record, fired, arena, out->measured, err);
}

ks_status ks_fire_run(const ks_fire_job *job, ks_arena *arena, ks_fire_outcome *out, ks_error *err)
{
    ks_plan *plan;
    ks_status status = ks_plan_read(job->plan_path, arena, &plan, err);
    if (!status && job->measured_path)
        status = measured_alone(job, plan, err);
    if (!status && job->curve_path)
        status = curves_tried(job, plan, out, arena, err);
    const char **curves = status ? NULL : out->curves;
    if (!status)
        status = ks_fire_loads(job, plan, arena, out, err);
    out->curves = curves;
    if (!status && job->measured_path)
        status = compare(job, out, arena, err);
    for (int i = 0; curves && i < out->n_loads && !status; i++)
        status = ks_curve_write(
            curves[i], &(ks_fired_curve){plan, out->loads[i], &out->fired[i], out->measured}, arena,
            err);
    return status;
}

bool ks_fire_all_reached(const ks_fire_outcome *outcome)
{
    for (int i = 0; i < outcome->n_loads; i++)
        if (!outcome->fired[i].reached)
            return false;
    return true;
}

bool ks_fire_all_borne(const ks_fire_outcome *outcome)
{
    for (int i = 0; i < outcome->n_loads; i++)
        if (outcome->fired[i].n_strains > 0)
            return false;
    return true;
}
