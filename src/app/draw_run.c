#include "app/draw_run.h"

#include "app/calendar_run.h"
#include "app/draw_child.h"
#include "app/more_sheets.h"
#include "app/target.h"
#include "base/file.h"

#include <stdlib.h>
#include <string.h>

static const struct {
    const char *ending;
    ks_draw_format format;
} formats[] = {{".pdf", KS_PDF}, {".svg", KS_SVG}, {".png", KS_PNG}, {".html", KS_HTML}};

static ks_status format_of(ks_draw_job *job, ks_error *err)
{
    if (ks_path_is_standard(job->out_path)) {
        job->options.format = KS_PDF;
        return KS_OK;
    }
    for (size_t i = 0; i < sizeof formats / sizeof *formats; i++)
        if (ks_path_ends(job->out_path, formats[i].ending)) {
            job->options.format = formats[i].format;
            return KS_OK;
        }
    return ks_fail(err, KS_BAD_USAGE,
                   "draw: found -o \"%s\"; the file's name must end in .pdf, .svg, .png, .html or "
                   ".ics",
                   job->out_path);
}

/* A build that is to repeat fixes the date of all it makes in this variable (a convention of
 * free-software packaging); without it the sheets carry none that could differ. */
static int64_t creation_date(void)
{
    const char *text = getenv("SOURCE_DATE_EPOCH");
    long long seconds = text ? strtoll(text, NULL, 10) : 0;
    return seconds > 0 ? seconds : 0;
}

/* "sheets.png" and "level-2" make "sheets-level-2.png". */
static const char *path_of(const char *out_path, const char *name, ks_arena *arena)
{
    if (!*name)
        return out_path;
    const char *dot = strrchr(out_path, '.');
    return ks_arena_print(arena, "%.*s-%s%s", (int)(dot - out_path), out_path, name, dot);
}

typedef struct {
    const ks_draw_job *job;
    ks_plan *plan;
} subject;

static ks_status draw(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const ks_draw_job *job = ((subject *)payload)->job;
    ks_plan *plan = ((subject *)payload)->plan;
    ks_draw_options options = job->options;
    ks_status status = KS_OK;
    options.created_s = creation_date();
    if (job->firing)
        status = ks_sheets_add_firing(plan, &options, arena, err);
    if (!status && job->costs)
        status = ks_sheets_add_costs(plan, &options, arena, err);
    return status ? status : ks_draw(plan, &options, arena, out, err);
}

/* A calendar is one more file among those draw. */
static ks_status dated(void *payload, ks_arena *arena, ks_drawing *out, ks_error *err)
{
    const ks_draw_job *job = ((subject *)payload)->job;
    const char *text;
    ks_status status = ks_calendar_run(((subject *)payload)->plan, job->options.load, job->start,
                                       arena, &text, err);
    if (status)
        return status;
    out->n_files = 1;
    out->files = KS_TAKE(arena, 1, ks_drawn);
    out->files[0] = (ks_drawn){"", (const unsigned char *)text, strlen(text)};
    return KS_OK;
}

static ks_inputs inputs_of(const ks_plan *plan, ks_arena *arena)
{
    ks_inputs inputs = {.arena = arena};
    ks_inputs_add_order(&inputs, plan->order);
    return inputs;
}

/* All of them may be write_it, or none is. */
static ks_status write_it(const ks_draw_job *job, const ks_plan *plan, ks_arena *arena,
                          ks_draw_outcome *out, ks_error *err)
{
    ks_status status = KS_OK;
    ks_inputs inputs = inputs_of(plan, arena);
    ks_target_kind kind = ks_target_draw(job->out_path);
    out->plan = plan;
    out->plan_hash = ks_plan_hash(plan, arena);
    out->paths = KS_TAKE(arena, out->drawing.n_files, const char *);
    for (int i = 0; i < out->drawing.n_files && !status; i++) {
        out->paths[i] = path_of(job->out_path, out->drawing.files[i].name, arena);
        status = ks_target_try(out->paths[i], kind, &inputs, job->force, err);
    }
    for (int i = 0; i < out->drawing.n_files && !status; i++) {
        const ks_drawn *file = &out->drawing.files[i];
        status = ks_file_write(out->paths[i], (const char *)file->bytes, file->size, err);
    }
    return status;
}

ks_status ks_draw_run(ks_draw_job *job, ks_arena *arena, ks_draw_outcome *out, ks_error *err)
{
    subject s = {.job = job};
    bool calendar = ks_path_ends(job->out_path, ".ics");
    ks_draw_work work = {calendar ? dated : draw, &s};
    ks_status status = calendar ? KS_OK : format_of(job, err);
    if (!status)
        status = ks_plan_read(job->plan_path, arena, &s.plan, err);
    if (!status) {
        ks_inputs inputs = inputs_of(s.plan, arena);
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
    ks_status status = format_of(job, err);
    if (!status)
        status = draw(&s, arena, &out->drawing, err);
    return status ? status : write_it(job, plan, arena, out, err);
}
