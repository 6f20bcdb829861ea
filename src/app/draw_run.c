#include "app/draw_run.h"

#include "app/calendar_run.h"
#include "app/draw_child.h"
#include "app/drawing_files.h"
#include "app/machine/now.h"
#include "app/machine/target.h"
#include "base/file.h"

#include <string.h>

typedef struct {
    const ks_draw_job *job;
    ks_plan *plan;
} subject;

/* All that is simulated is simulated once. Ware can be loaded though its firing cannot be
 * simulated: where only the overview would tell of it, that says why it has no times. */
static ks_status add_simulated(const subject *s, ks_draw_options *options, ks_arena *arena,
                               ks_error *err)
{
    const ks_draw_job *job = s->job;
    bool notes =
        options->sheets & KS_SHEET_OVERVIEW && options->format != KS_HTML && !options->member;
    ks_fire_outcome fired;
    ks_error why = {0};
    bool costs = job->costs.tables || job->costs.prices;
    if (!notes && !job->firing && !costs)
        return KS_OK;
    ks_status status = ks_sheets_fire(s->plan, options, job->firing, costs, arena, &fired, &why);
    if (status && (job->firing || costs || status != KS_BAD_INPUT))
        return ks_fail(err, status, "%s", why.text);
    if (notes)
        status = ks_sheets_add_notes(s->plan, status ? NULL : &fired, &why, options, arena, err);
    if (!status && job->firing)
        ks_sheets_add_firing(&fired, options, arena);
    if (!status && costs)
        status = ks_sheets_add_costs(&fired, job->costs, options, arena, err);
    return status;
}

static ks_status draw(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const subject *s = payload;
    ks_draw_options options = s->job->options;
    options.created_s = ks_today();
    ks_status status = add_simulated(s, &options, arena, err);
    return status ? status : ks_draw(s->plan, &options, arena, out, err);
}

/* A calendar is one more file among those draw. */
static ks_status dated(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const ks_draw_job *job = ((subject *)payload)->job;
    ks_calendar_outcome outcome;
    const ks_calendar_plan plan = {job->plan_path, ((subject *)payload)->plan, NULL};
    const ks_calendar_job asked = {.load = job->options.load, .start = job->start};
    ks_status status = ks_calendar_of(&asked, 1, &plan, arena, &outcome, err);
    return status ? status : ks_calendar_drawn(job->out_path, &outcome, NULL, arena, out, err);
}

static ks_inputs inputs_of(const ks_draw_job *job, const ks_plan *plan, ks_arena *arena)
{
    ks_inputs inputs = {.arena = arena};
    ks_inputs_add_order(&inputs, plan->order);
    ks_inputs_add(&inputs, job->font_path);
    return inputs;
}

/* Fonts with all ideographs are some 20 MB large. */
static ks_status read_font(ks_draw_job *job, ks_arena *arena, ks_error *err)
{
    enum { MOST = 128 << 20 };
    ks_bytes bytes = {0};
    if (!job->font_path)
        return KS_OK;
    ks_status status = ks_file_read(job->font_path, MOST, arena, &bytes, err);
    job->options.font =
        (ks_font){ks_path_show(job->font_path), (const unsigned char *)bytes.bytes, bytes.length};
    return status;
}

static ks_status write_it(const ks_draw_job *job, const ks_plan *plan, ks_arena *arena,
                          ks_draw_outcome *out, ks_error *err)
{
    ks_inputs inputs = inputs_of(job, plan, arena);
    const ks_drawing_target to = {job->out_path, job->force, &inputs};
    out->plan = plan;
    out->plan_hash = ks_plan_hash(plan, arena);
    return ks_drawing_write(&to, &out->drawing, arena, &out->paths, err);
}

ks_status ks_draw_run(ks_draw_job *job, ks_arena *arena, ks_draw_outcome *out, ks_error *err)
{
    subject s = {.job = job};
    bool calendar = ks_path_ends(job->out_path, ".ics");
    ks_draw_work work = {calendar ? dated : draw, &s};
    ks_status status =
        calendar ? KS_OK : ks_draw_format_of(job->out_path, &job->options.format, err);
    if (!status)
        status = read_font(job, arena, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &s.plan, err);
    if (!status) {
        ks_inputs inputs = inputs_of(job, s.plan, arena);
        status =
            ks_target_try(job->out_path, ks_target_draw(job->out_path), &inputs, job->force, err);
    }
    if (!status)
        status = ks_draw_in_child(&work, arena, &out->drawing, err);
    return status ? status : write_it(job, s.plan, arena, out, err);
}

ks_status ks_draw_plan(ks_plan *plan, ks_draw_job *job, ks_arena *arena, ks_draw_outcome *out,
                       ks_error *err)
{
    subject s = {job, plan};
    ks_draw_work work = {draw, &s};
    ks_status status = ks_draw_format_of(job->out_path, &job->options.format, err);
    if (!status)
        status = ks_draw_in_child(&work, arena, &out->drawing, err);
    return status ? status : write_it(job, plan, arena, out, err);
}
