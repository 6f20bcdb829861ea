#include "app/calendar_run.h"

#include "app/calendar_loads.h"
#include "app/calendar_words.h"
#include "app/draw_child.h"
#include "app/drawing_files.h"
#include "app/machine/now.h"
#include "app/machine/target.h"
#include "base/file.h"
#include "base/language.h"

#include <math.h>
#include <string.h>

enum { MOST_BYTES = 8 << 20 };

/* One calendar has one clock. */
static ks_status zone_of(int n_plans, const ks_calendar_plan *plans, ks_calendar_outcome *out,
                         ks_error *err)
{
    const ks_order *first = plans[0].plan->order;
    out->zone = first->zone ? first->zone : "";
    out->rule = ks_studio_zone(first);
    out->people = (ks_people){&out->rule, first->n_open, first->open};
    for (int p = 1; p < n_plans; p++) {
        const char *zone = plans[p].plan->order->zone ? plans[p].plan->order->zone : "";
        if (strcmp(zone, out->zone) != 0)
            return ks_fail(err, KS_BAD_INPUT,
                           "%s: order.time_zone: found \"%s\", and \"%s\" in %s; plans on one "
                           "calendar tell one zone",
                           plans[p].path, zone, out->zone, plans[0].path);
    }
    return KS_OK;
}

ks_status ks_calendar_of(const ks_calendar_job *job, int n_plans, const ks_calendar_plan *plans,
                         ks_arena *arena, ks_calendar_outcome *out, ks_error *err)
{
    *out = (ks_calendar_outcome){.zone = ""};
    ks_status status = ks_calendar_job_check(job, err);
    if (!status)
        status = zone_of(n_plans, plans, out, err);
    if (!status)
        status = ks_calendar_fill(job, n_plans, plans, arena, out, err);
    if (status)
        return status;
    ks_calendar_clashes_find(out, arena);
    ks_calendar_dues_find(n_plans, plans, out, arena);
    return KS_OK;
}

static const char *about(const ks_calendar_load *load, ks_arena *arena)
{
    const ks_plan *plan = load->of->plan;
    return ks_arena_print(arena,
                          "%s%s\nVentilate; never open it hot; local electrical code and a "
                          "licensed electrician decide on the circuit\nplan %.8s",
                          load->proposed ? ks_tr("Only proposed: the load has no date yet\n")
                          : load->start.clock_assumed
                              ? ks_tr("Only the day is given; the hour is assumed\n")
                              : "",
                          load->fired->verdict, ks_plan_hash(plan, arena));
}

/* Clashes and late ware. */
static int remarks_of(const ks_calendar_outcome *outcome, ks_arena *arena, const char ***out)
{
    int n = 0;
    *out = KS_TAKE(arena, outcome->n_clashes + outcome->n_dues, const char *);
    for (int i = 0; i < outcome->n_clashes; i++)
        (*out)[n++] = ks_calendar_clash_words(outcome, i, arena);
    for (int i = 0; i < outcome->n_dues; i++)
        if (outcome->dues[i].late)
            (*out)[n++] = ks_calendar_due_words(outcome, i, arena);
    return n;
}

static ks_calendar calendar_of(const ks_calendar_outcome *outcome, ks_arena *arena)
{
    ks_dated_load *loads = KS_TAKE(arena, outcome->n_loads, ks_dated_load);
    for (int i = 0; i < outcome->n_loads; i++) {
        const ks_calendar_load *load = &outcome->loads[i];
        const ks_order *order = load->of->plan->order;
        loads[i] = (ks_dated_load){.uid = load->uid,
                                   .kiln = load->of->plan->loads[load->load].kiln_id,
                                   .title = order->title,
                                   .where = order->studio,
                                   .about = about(load, arena),
                                   .load = load->load + 1,
                                   .proposed = load->proposed,
                                   .clashes = load->clashes,
                                   .at = load->at};
    }
    const char **remarks;
    int n_remarks = remarks_of(outcome, arena, &remarks);
    return (ks_calendar){.n_remarks = n_remarks,
                         .remarks = remarks,
                         .studio = outcome->n_loads > 0 ? loads[0].where : "",
                         .zone = outcome->zone,
                         .n_loads = outcome->n_loads,
                         .loads = loads,
                         .stamp_s = ks_now()};
}

/* What stands there, NULL where nothing can be read. */
static const char *before(const char *path, ks_arena *arena)
{
    ks_bytes bytes;
    ks_error unread = {0};
    if (ks_path_is_standard(path) || ks_file_read(path, MOST_BYTES, arena, &bytes, &unread))
        return NULL;
    return ks_arena_text_n(arena, bytes.bytes, bytes.length);
}

ks_status ks_calendar_drawn(const char *out_path, const ks_calendar_outcome *outcome,
                            const ks_draw_options *options, ks_arena *arena, ks_drawing *out,
                            ks_error *err)
{
    ks_calendar calendar = calendar_of(outcome, arena);
    if (!ks_path_ends(out_path, ".ics"))
        return ks_draw_calendar(&calendar, options, arena, out, err);
    const char *text = ks_calendar_text(&calendar, before(out_path, arena), arena);
    *out = (ks_drawing){.n_files = 1, .files = KS_TAKE(arena, 1, ks_drawn)};
    out->files[0] = (ks_drawn){"", (const unsigned char *)text, strlen(text)};
    return KS_OK;
}

typedef struct {
    const char *out_path;
    const ks_calendar_outcome *outcome;
    ks_draw_options options;
} drawing_work;

static ks_status draw(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const drawing_work *work = payload;
    return ks_calendar_drawn(work->out_path, work->outcome, &work->options, arena, out, err);
}

static ks_status write_it(const ks_calendar_job *job, const ks_inputs *inputs, ks_arena *arena,
                          ks_calendar_outcome *out, ks_error *err)
{
    drawing_work work = {job->out_path, out, ks_draw_default()};
    const ks_draw_work in_child = {draw, &work};
    const ks_drawing_target to = {job->out_path, job->force, inputs};
    ks_drawing drawing;
    ks_status status = KS_OK;
    work.options.created_s = ks_now_told();
    if (!ks_path_ends(job->out_path, ".ics"))
        status = ks_draw_format_of(job->out_path, &work.options.format, err);
    if (!status)
        status = ks_draw_in_child(&in_child, arena, &drawing, err);
    if (!status)
        status = ks_drawing_write(&to, &drawing, arena, &out->paths, err);
    out->n_paths = status ? 0 : drawing.n_files;
    return status;
}

ks_status ks_calendar_run(const ks_calendar_job *job, ks_arena *arena, ks_calendar_outcome *out,
                          ks_error *err)
{
    ks_draw_format format;
    ks_inputs inputs = {.arena = arena};
    bool drawn = job->out_path && !ks_path_ends(job->out_path, ".ics");
    ks_status status = drawn ? ks_draw_format_of(job->out_path, &format, err) : KS_OK;
    if (!status && drawn && format == KS_HTML)
        status = ks_fail(err, KS_BAD_USAGE, "a %s is drawn as PDF, SVG or PNG", "calendar");
    ks_calendar_plan *plans = KS_TAKE(arena, job->n_plans, ks_calendar_plan);
    for (int p = 0; p < job->n_plans && !status; p++) {
        plans[p].path = job->plan_paths[p];
        status = ks_plan_read(job->plan_paths[p], arena, &plans[p].plan, err);
        if (!status)
            ks_inputs_add_order(&inputs, plans[p].plan->order);
        ks_inputs_add(&inputs, job->plan_paths[p]);
    }
    if (!status && job->out_path)
        status =
            ks_target_try(job->out_path, ks_target_draw(job->out_path), &inputs, job->force, err);
    if (!status)
        status = ks_calendar_of(job, job->n_plans, plans, arena, out, err);
    return status || !job->out_path ? status : write_it(job, &inputs, arena, out, err);
}
