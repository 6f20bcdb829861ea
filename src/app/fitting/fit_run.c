#include "app/fitting/fit_run.h"

#include "app/machine/target.h"
#include "app/machine/where.h"
#include "base/file.h"
#include "base/text.h"
#include "base/units.h"

#include <string.h>

/* Kilns asked about, and those to look to beside them. */
typedef struct {
    int n, n_others;
    ks_kiln *kilns, *others;
} kiln_lists;

static ks_status name_kilns(const ks_fit_job *job, ks_arena *arena, kiln_lists *out, ks_error *err)
{
    ks_status status = KS_OK;
    out->kilns = KS_TAKE(arena, job->n_kilns, ks_kiln);
    for (int k = 0; k < job->n_kilns && !status; k++)
        status = ks_kiln_read(job->kilns[k], arena, &out->kilns[out->n++], err);
    return status;
}

static ks_status read_others(const ks_fit_job *job, ks_arena *arena, kiln_lists *out, ks_error *err)
{
    const char **files;
    int n = ks_where_files(job->kiln_folder, ".json", arena, &files);
    ks_status status = KS_OK;
    out->others = KS_TAKE(arena, n, ks_kiln);
    for (int k = 0; k < n && !status; k++)
        status = ks_kiln_read(ks_path_join(job->kiln_folder, files[k], arena), arena,
                              &out->others[out->n_others++], err);
    return status;
}

ks_status ks_fit_find_piece(const ks_order *order, const char *option, const char *id,
                            ks_arena *arena, int *piece, ks_error *err)
{
    const char **ids = KS_TAKE(arena, order->n_pieces, const char *);
    for (*piece = 0; *piece < order->n_pieces; ++*piece) {
        ids[*piece] = order->pieces[*piece].id;
        if (strcmp(ids[*piece], id) == 0)
            return KS_OK;
    }
    const char *nearest = ks_nearest(id, ids, order->n_pieces);
    return ks_fail(err, KS_BAD_USAGE, "%s: found \"%s\"; the order has no such piece%s%s", option,
                   id, nearest ? ", nearest is " : "", nearest ? nearest : "");
}

static ks_status choose_pieces(const ks_fit_job *job, const ks_order *order, ks_arena *arena,
                               int *n, int **pieces, ks_error *err)
{
    *n = job->n_pieces > 0 ? job->n_pieces : order->n_pieces;
    *pieces = KS_TAKE(arena, *n, int);
    ks_status status = KS_OK;
    for (int i = 0; i < *n && !status; i++) {
        (*pieces)[i] = i;
        if (job->n_pieces > 0)
            status = ks_fit_find_piece(order, "--piece", job->pieces[i], arena, &(*pieces)[i], err);
    }
    return status;
}

static ks_status answer(const ks_fit_job *job, const kiln_lists *kilns, const int *pieces, int n,
                        ks_fit_known *known, ks_arena *arena, ks_fit_outcome *out, ks_error *err)
{
    ks_fit_options options = job->options;
    options.known = known;
    options.n_others = kilns->n_others;
    options.others = kilns->others;
    options.scale = true;
    out->answers = KS_TAKE(arena, n * kilns->n, ks_fit_answer);
    out->all_fit = true;
    for (int i = 0; i < n; i++) {
        bool somewhere = false;
        for (int k = 0; k < kilns->n; k++) {
            ks_fit_answer *answer = &out->answers[out->n_answers++];
            ks_status status =
                ks_fit(out->order, pieces[i], &kilns->kilns[k], &options, arena, answer, err);
            if (status)
                return status;
            somewhere = somewhere || answer->fits;
        }
        out->all_fit = out->all_fit && somewhere;
    }
    return KS_OK;
}

static void try_pairs(const kiln_lists *kilns, const int *pieces, int n, ks_fit_known *known,
                      ks_arena *arena, ks_fit_outcome *out)
{
    out->pairs = KS_TAKE(arena, n * n * kilns->n, ks_fit_pair);
    for (int k = 0; k < kilns->n; k++)
        for (int i = 0; i < n; i++)
            for (int j = 0; j < i; j++) {
                ks_fit_pair pair = {pieces[j], pieces[i], &kilns->kilns[k], false};
                pair.together =
                    ks_fit_together(out->order, pair.a, pair.b, pair.kiln, known, arena);
                out->pairs[out->n_pairs++] = pair;
            }
}

static ks_status plan_loads(const ks_fit_job *job, const kiln_lists *kilns, const int *pieces,
                            int n, ks_arena *arena, ks_fit_outcome *out, ks_error *err)
{
    out->loads = KS_TAKE(arena, kilns->n, ks_fit_load);
    bool somewhere = false;
    ks_status status = KS_OK;
    for (int k = 0; k < kilns->n && !status; k++) {
        ks_fit_load *load = &out->loads[out->n_loads++];
        status = ks_fit_load_run(job, out->order, n, pieces, &kilns->kilns[k],
                                 n == 1 ? &out->answers[k] : NULL, arena, load, err);
        somewhere = somewhere || load->named_in == load->n_named;
    }
    out->all_fit = out->all_fit && somewhere;
    return status;
}

static ks_status drawable(const char *path, ks_error *err)
{
    static const char *const endings[] = {".pdf", ".svg", ".png", ".html"};
    for (int i = 0; i < 4; i++)
        if (!path || ks_path_ends(path, endings[i]))
            return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--draw: found \"%s\"; the file's name must end in .pdf, .svg, .png or .html",
                   path);
}

static ks_status try_targets(const ks_fit_job *job, const ks_order *order, ks_arena *arena,
                             ks_error *err)
{
    ks_inputs inputs = {.arena = arena};
    ks_inputs_add_order(&inputs, order);
    for (int k = 0; k < job->n_kilns; k++)
        ks_inputs_add(&inputs, job->kilns[k]);
    ks_status status = ks_target_try(job->plan_path, KS_TARGET_PLAN, &inputs, job->force, err);
    return status || !job->draw_path ? status
                                     : ks_target_try(job->draw_path, ks_target_draw(job->draw_path),
                                                     &inputs, job->force, err);
}

/* In the first kiln that it goes into, else the first that it can stand in at all. */
static ks_status draw_piece(const ks_fit_job *job, ks_arena *arena, ks_fit_outcome *out,
                            ks_error *err)
{
    const ks_fit_answer *chosen = NULL;
    for (int i = 0; i < out->n_answers; i++) {
        const ks_fit_answer *answer = &out->answers[i];
        bool stands = answer->visits[answer->n_visits - 1].best.possible;
        if (answer->piece != out->answers[0].piece)
            return ks_fail(err, KS_BAD_USAGE,
                           "--draw: draws one piece; name it with --piece, and no other");
        if (stands && (!chosen || (answer->fits && !chosen->fits)))
            chosen = answer;
    }
    ks_plan *plan = chosen ? ks_fit_plan(out->order, chosen, arena) : NULL;
    if (!plan)
        return ks_fail(err, KS_NO_ANSWER, "--draw: no kiln asked about has a shelf for it");
    ks_draw_job draw = {
        .out_path = job->draw_path, .options = ks_draw_default(), .force = job->force};
    draw.options.sheets = KS_SHEET_ROOM | KS_SHEET_FORMS | KS_SHEET_LEVELS;
    return ks_draw_plan(plan, &draw, arena, &out->drawn, err);
}

static ks_status find_kilns(const ks_fit_job *job, const ks_order *order, ks_arena *arena,
                            kiln_lists *kilns, ks_error *err)
{
    ks_status status = name_kilns(job, arena, kilns, err);
    if (!status)
        status = read_others(job, arena, kilns, err);
    if (!status && job->all_kilns) {
        kilns->n = kilns->n_others;
        kilns->kilns = kilns->others;
    }
    if (!status && kilns->n == 0) {
        kilns->n = order->n_kilns;
        kilns->kilns = order->kilns;
    }
    return status;
}

static ks_status fits_together(const ks_fit_job *job, ks_error *err)
{
    if (job->largest && job->n_pieces != 1)
        return ks_fail(err, KS_BAD_USAGE,
                       "--largest: asks about one piece, whose clay, slab and firing the form will "
                       "have; name it with --piece, and no other");
    if (job->largest && (job->pairs || job->together || job->rest))
        return ks_fail(err, KS_BAD_USAGE,
                       "--largest: goes with none of --pairs, --together and --rest");
    if (!job->largest && (job->n_under > 0 || job->foot || job->high))
        return ks_fail(err, KS_BAD_USAGE, "--under, --foot and --high: go with --largest alone");
    if (job->plan_path && !job->rest && !job->together)
        return ks_fail(err, KS_BAD_USAGE,
                       "--output: writes the load that --rest or --together plans; ask for one of "
                       "them");
    return KS_OK;
}

/* After all kilns are known: one plan is written. */
static ks_status one_kiln(const ks_fit_job *job, const kiln_lists *kilns, ks_error *err)
{
    if (!job->plan_path || kilns->n == 1)
        return KS_OK;
    return ks_fail(err, KS_BAD_USAGE,
                   "--output: found %d kilns; one load is written: name its kiln with --kiln",
                   kilns->n);
}

static ks_status read_length(const char *option, const char *text, const ks_order *order,
                             double most_mm, double *mm, ks_error *err)
{
    double told = 0;
    const char *unit = order->display.length;
    if (!text)
        return KS_OK;
    if (ks_quantity_parse(KS_LENGTH, text, unit, &told) || !(told >= 0 && told <= most_mm))
        return ks_fail(err, KS_BAD_USAGE,
                       "--%s: found \"%s\"; it is a length from 0 to %g mm, as \"3 mm\" or "
                       "\"1/8 in\"; without a unit it is read in the order's own, \"%s\"",
                       option, text, most_mm, unit);
    *mm = told;
    return KS_OK;
}

static ks_status read_lengths(const ks_order *order, ks_fit_job *job, ks_error *err)
{
    ks_status status = read_length("tape", job->tape, order, 100, &job->options.tape_mm, err);
    return status ? status
                  : read_length("board", job->board, order, 200, &job->options.board_mm, err);
}

ks_status ks_fit_run(const ks_fit_job *asked, ks_arena *arena, ks_fit_outcome *out, ks_error *err)
{
    ks_fit_job own = *asked, *job = &own;
    kiln_lists kilns = {0};
    int n = 0, *pieces = NULL;
    *out = (ks_fit_outcome){0};
    ks_status status = drawable(job->draw_path, err);
    if (!status)
        status = fits_together(job, err);
    if (!status)
        status = ks_order_read_columns(job->order_path, job->kiln_folder, job->columns, arena,
                                       &out->order, err);
    if (!status)
        status = read_lengths(out->order, job, err);
    if (!status)
        status = try_targets(job, out->order, arena, err);
    if (!status)
        status = choose_pieces(job, out->order, arena, &n, &pieces, err);
    out->brief = job->n_pieces == 0 && n > 1;
    if (!status)
        status = find_kilns(job, out->order, arena, &kilns, err);
    if (!status)
        status = one_kiln(job, &kilns, err);
    if (!status && job->largest)
        return ks_fit_largest_run(job, pieces[0], kilns.n, kilns.kilns, arena, out, err);
    ks_fit_known *known = ks_fit_known_create(arena);
    if (!status)
        status = answer(job, &kilns, pieces, n, known, arena, out, err);
    if (!status && job->pairs)
        try_pairs(&kilns, pieces, n, known, arena, out);
    if (!status && (job->together || job->rest))
        status = plan_loads(job, &kilns, pieces, n, arena, out, err);
    if (!status && !out->brief && kilns.n > 1)
        ks_fit_compare(out, arena);
    if (!status && job->plan_path)
        status = ks_fit_load_write(job, &out->loads[0], arena, err);
    if (!status && job->draw_path)
        status = draw_piece(job, arena, out, err);
    return status;
}
