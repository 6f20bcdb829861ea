/* The question before the clay: how large may a form be? */
#include "app/fitting/fit_run.h"

#include "base/units.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LEVELS_MOST = 20 };

/* "cup:2" */
static ks_status read_under(const ks_order *order, const char *words, int *piece, int *levels,
                            ks_arena *arena, ks_error *err)
{
    const char *colon = strrchr(words, ':');
    char *end = NULL;
    long n = colon ? strtol(colon + 1, &end, 10) : 1;
    if (colon && (end == colon + 1 || *end || n < 1 || n > LEVELS_MOST))
        return ks_fail(err, KS_BAD_USAGE,
                       "--under: found \"%s\"; it is a piece of the order and how many levels of "
                       "it, 1 to %d, as \"cup:2\"",
                       words, LEVELS_MOST);
    size_t length = colon ? (size_t)(colon - words) : strlen(words);
    *levels = (int)n;
    return ks_fit_find_piece(order, "--under", ks_arena_text_n(arena, words, length), arena, piece,
                             err);
}

static ks_status read_levels_below(const ks_fit_job *job, const ks_order *order,
                                   ks_fit_options *options, ks_arena *arena, ks_error *err)
{
    double *below = KS_TAKE(arena, job->n_under * LEVELS_MOST, double);
    ks_status status = KS_OK;
    for (int i = 0; i < job->n_under && !status; i++) {
        int piece = 0, levels = 0;
        status = read_under(order, job->under[i], &piece, &levels, arena, err);
        for (int l = 0; l < levels && !status; l++)
            below[options->n_below++] = order->pieces[piece].height_mm;
    }
    options->below_mm = below;
    return status;
}

static ks_status read_foot(const ks_fit_job *job, ks_foot_shape *foot, ks_error *err)
{
    for (*foot = 0; job->foot && *foot < KS_FEET; ++*foot)
        if (strcmp(job->foot, ks_foot_names[*foot]) == 0)
            return KS_OK;
    return job->foot ? ks_fail(err, KS_BAD_USAGE,
                               "--foot: found \"%s\"; feet are round, oval or square", job->foot)
                     : KS_OK;
}

static ks_status read_height(const ks_fit_job *job, const ks_order *order, ks_fit_options *options,
                             ks_error *err)
{
    const char *fault = NULL;
    if (job->high)
        fault = ks_quantity_parse(KS_LENGTH, job->high, order->display.length, &options->high_mm);
    if (fault || (job->high && !(options->high_mm >= KS_FIT_LEAST_MM)))
        return ks_fail(
            err, KS_BAD_USAGE,
            "--high: found \"%s\"; it is the form's height as it goes in, %d mm or more, as "
            "\"45 cm\"",
            job->high, KS_FIT_LEAST_MM);
    return KS_OK;
}

/* The piece made into the largest form of that foot, in the first kiln that takes one. */
static ks_plan *plan_form(const ks_order *order, int piece, const ks_fit_options *options,
                          ks_foot_shape foot, const ks_fit_outcome *found, ks_arena *arena,
                          ks_error *err)
{
    const ks_fit_largest *largest = NULL;
    for (int i = 0; i < found->n_largest && !largest; i++)
        if (found->largest[i].n_sizes > 0 && found->largest[i].sizes[0].wide_mm[foot] > 0)
            largest = &found->largest[i];
    if (!largest)
        return NULL;
    ks_order *with = KS_TAKE(arena, 1, ks_order);
    *with = *order;
    with->pieces = KS_TAKE(arena, order->n_pieces, ks_piece);
    memcpy(with->pieces, order->pieces, (size_t)order->n_pieces * sizeof *with->pieces);
    with->pieces[piece] =
        ks_fit_form_of(&order->pieces[piece], foot, floor(largest->sizes[0].wide_mm[foot]),
                       floor(largest->sizes[0].high_mm), arena);
    ks_fit_answer answer;
    return ks_fit(with, piece, largest->kiln, options, arena, &answer, err)
               ? NULL
               : ks_fit_plan(with, &answer, arena);
}

/* Of the kiln's next load that has a date. */
static int first_day(const ks_order *order, const char *kiln)
{
    int day = KS_NO_DAY;
    for (int i = 0; i < order->n_slots; i++)
        if (strcmp(order->kilns[order->slots[i].kiln].id, kiln) == 0 && order->slots[i].day < day)
            day = order->slots[i].day;
    return day;
}

static ks_status draw_form(const ks_fit_job *job, int piece, const ks_fit_options *options,
                           ks_foot_shape foot, ks_arena *arena, ks_fit_outcome *out, ks_error *err)
{
    ks_plan *plan = plan_form(out->order, piece, options, foot, out, arena, err);
    if (!plan)
        return ks_fail(err, KS_NO_ANSWER,
                       "--draw: no kiln asked about takes a form of that foot and height");
    plan->loads[0].day = first_day(out->order, plan->loads[0].kiln_id);
    ks_draw_job draw = {
        .out_path = job->draw_path, .options = ks_draw_default(), .force = job->force};
    draw.options.sheets =
        KS_SHEET_TEMPLATE | KS_SHEET_FORMS | (options->n_below > 0 ? 0 : KS_SHEET_ROOM);
    return ks_draw_plan(plan, &draw, arena, &out->drawn, err);
}

ks_status ks_fit_largest_run(const ks_fit_job *job, int piece, int n_kilns, const ks_kiln *kilns,
                             ks_arena *arena, ks_fit_outcome *out, ks_error *err)
{
    ks_fit_options options = job->options;
    ks_foot_shape foot = KS_FOOT_ROUND;
    ks_status status = read_levels_below(job, out->order, &options, arena, err);
    if (!status)
        status = read_foot(job, &foot, err);
    if (!status)
        status = read_height(job, out->order, &options, err);
    out->foot = job->foot ? (int)foot : -1;
    out->largest_piece = piece;
    out->n_below = options.n_below;
    out->largest = KS_TAKE(arena, n_kilns, ks_fit_largest);
    for (int k = 0; k < n_kilns && !status; k++) {
        ks_fit_largest *largest = &out->largest[out->n_largest++];
        status = ks_fit_largest_of(out->order, piece, &kilns[k], &options, arena, largest, err);
        out->all_fit = out->all_fit || largest->n_sizes > 0;
    }
    return status || !job->draw_path ? status
                                     : draw_form(job, piece, &options, foot, arena, out, err);
}
