/* fit.c: kilnstow fit. */
#include "cli/cli.h"

#include "app/answer.h"
#include "app/fit_run.h"
#include "app/where.h"
#include "base/units.h"

#include <math.h>
#include <stdio.h>

static const char *length(const ks_fit_outcome *outcome, double mm, ks_arena *arena)
{
    return ks_quantity_print(KS_LENGTH, mm, outcome->order->display.length, arena);
}

static void visit_told(const ks_fit_outcome *outcome, const ks_fit_answer *answer,
                       const ks_fit_visit *visit, ks_arena *arena)
{
    const ks_fit_way *way = &visit->best;
    const ks_bay *bay = &answer->kiln->bays[way->bay];
    printf("  %s: %s, %s across at its narrowest, %s high with its setter\n", visit->name,
           visit->fits ? "goes in" : "does not go in", length(outcome, visit->breadth_mm, arena),
           length(outcome, visit->height_mm, arena));
    if (!way->possible)
        return;
    printf("    roomiest: bay %s, shelf top at %s, x %.1f y %.1f mm, turned %.1f degrees%s\n",
           bay->id, length(outcome, way->z_mm, arena), way->stand.x, way->stand.y,
           way->stand.turn_deg, way->shelf_over ? ", another shelf over it" : "");
    printf(
        "    spare around %.1f mm (tape and shrinkage +-%.1f), tightest at the %s; above %.1f mm "
        "(+-%.1f)\n",
        way->around_mm, visit->error_around_mm, way->tightest, way->above_mm,
        visit->error_above_mm);
    if (isfinite(visit->passage_mm))
        printf("    way in: %.0f mm %s\n", fabs(visit->passage_mm),
               visit->passes ? "to spare" : "short");
    if (visit->fits)
        printf("    other levels can have %.0f mm of height, shelves included\n", way->below_mm);
}

static void care_told(const ks_fit_care *care)
{
    printf("  feet travel %.1f mm expected, %.1f mm with one held fast, after %.1f mm outward; "
           "slab rim "
           "%.1f mm; form on slab %.1f mm\n",
           care->travel.expected_mm, care->travel.worst_mm, care->travel.outward_mm,
           care->travel.slab_rim_mm, care->travel.form_on_slab_mm);
    printf("  stands %.0f mm within its feet, %.0f mm tilted by 5 degrees%s\n", care->stands_by_mm,
           care->stands_tilted_mm, care->stands_tilted_mm < 0 ? ": prop it" : "");
    if (care->shelf_allowed_mpa > 0)
        printf("  shelf bends with %.2f MPa, good for about %.2f MPa at this cone%s\n",
               care->shelf_stress_mpa, care->shelf_allowed_mpa,
               care->shelf_stress_mpa > care->shelf_allowed_mpa
                   ? ": too much, add a post or a shelf"
                   : "");
    if (care->limit_kg <= 0)
        printf("  caution: %.1f kg at %.0f mm from the body: beyond reach for one person; two "
               "lift, or a "
               "hoist\n",
               care->lifted_kg, care->reach_mm);
    else
        printf("  %s: %.1f kg at %.0f mm from the body; one person should lift at most %.1f kg "
               "there\n",
               care->lifted_kg > care->limit_kg ? "caution" : "lifting", care->lifted_kg,
               care->reach_mm, care->limit_kg);
}

static void answer_told(const ks_fit_outcome *outcome, const ks_fit_answer *answer, ks_arena *arena)
{
    const ks_piece *piece = &outcome->order->pieces[answer->piece];
    printf("%s in %s: %s\n", piece->id, answer->kiln->name, answer->verdict);
    if (*answer->nearest)
        printf("  nearest yes: %s\n", answer->nearest);
    for (int v = 0; v < answer->n_visits; v++)
        visit_told(outcome, answer, &answer->visits[v], arena);
    if (answer->largest_scale > 0)
        printf("  largest that goes in: %.1f %% of its size", 100 * answer->largest_scale);
    if (answer->largest_wet_breadth_mm > 0)
        printf("; made wet no more than %s across and %s high",
               length(outcome, answer->largest_wet_breadth_mm, arena),
               length(outcome, answer->largest_wet_height_mm, arena));
    printf("%s", answer->largest_scale > 0 ? "\n" : "");
    if (answer->visits[answer->n_visits - 1].best.possible)
        care_told(&answer->care);
}

int ks_cli_fit(int argc, char **argv)
{
    ks_fit_job job = {.options = ks_fit_default()};
    ks_text_list pieces = {0}, kilns = {0};
    const ks_option options[] = {
        {"piece", 'p', "ID", KS_OPT_LIST, &pieces, 0, 0,
         "this piece; may be given again. All if not told"},
        {"kiln", 'k', "FILE", KS_OPT_LIST, &kilns, 0, 0,
         "this kiln; may be given again. The order's if not told"},
        {"pairs", 0, NULL, KS_OPT_FLAG, &job.pairs, 0, 0, "which of the pieces can share a level"},
        {"tape", 0, "MM", KS_OPT_NUMBER, &job.options.tape_mm, 0, 100,
         "error of the tape, 3 (or 1 % if that is more)"},
        {"board", 0, "MM", KS_OPT_NUMBER, &job.options.board_mm, 0, 200,
         "thickness of the board it is carried in on, 18"},
    };
    const ks_command command = {
        "fit",
        "tells whether a piece goes in on its setter, and with how much room",
        "ORDER",
        1,
        1,
        "  kilnstow fit order.json --piece torso\n"
        "  kilnstow fit order.json --piece torso --kiln kilns/oval-580x1040.json",
        "Exit status: 0 every piece named goes into a kiln, 1 one does not.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_fit_outcome outcome;
    job.order_path = cli.parsed.args[0];
    job.kiln_folder = ks_where_kilns(&cli.arena);
    job.n_pieces = pieces.n;
    job.pieces = pieces.texts;
    job.n_kilns = kilns.n;
    job.kilns = kilns.texts;
    if (ks_fit_run(&job, &cli.arena, &outcome, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json) {
        fputs(ks_answer_fit(&outcome, &cli.arena), stdout);
        return ks_cli_finish(&cli, outcome.all_fit ? 0 : 1);
    }
    for (int i = 0; i < outcome.n_answers; i++)
        answer_told(&outcome, &outcome.answers[i], &cli.arena);
    for (int i = 0; i < outcome.n_pairs; i++) {
        const ks_fit_pair *pair = &outcome.pairs[i];
        printf("%s and %s in %s: %s\n", outcome.order->pieces[pair->a].id,
               outcome.order->pieces[pair->b].id, pair->kiln->name,
               pair->together ? "can share a level" : "no way found to share a level");
    }
    return ks_cli_finish(&cli, outcome.all_fit ? 0 : 1);
}
