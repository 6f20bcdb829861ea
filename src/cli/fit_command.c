/* fit.c: kilnstow fit. */
#include "cli/frame/cli.h"
#include "cli/fit_told.h"

#include "app/answers/answer.h"
#include "app/machine/where.h"

#include <stdio.h>
#include <string.h>

static ks_status drawn_as(const char *word, ks_drawn_size *out, ks_error *err)
{
    static const char *const words[] = {"now", "wet", "finished"};
    for (int i = 0; word && i < 3; i++)
        if (strcmp(word, words[i]) == 0) {
            *out = (ks_drawn_size)i;
            return KS_OK;
        }
    return word ? ks_fail(err, KS_BAD_USAGE,
                          "--drawn: found \"%s\"; sizes are \"now\", \"wet\" or \"finished\"", word)
                : KS_OK;
}

static int answer_fit(ks_cli *cli, ks_fit_job *job, const char *drawn)
{
    ks_fit_outcome outcome;
    job->order_path = cli->parsed.args[0];
    job->kiln_folder = ks_where_kilns(&cli->arena);
    if (drawn_as(drawn, &job->options.drawn, &cli->err) ||
        ks_fit_run(job, &cli->arena, &outcome, &cli->err))
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(ks_answer_fit(&outcome, &cli->arena), stdout);
    else
        ks_fit_print(&outcome, &cli->arena);
    return outcome.all_fit ? 0 : 1;
}

static const char examples[] =
    "  kilnstow fit order.json --piece torso\n"
    "  kilnstow fit order.json --piece torso --all-kilns\n"
    "  kilnstow fit order.json --piece torso --largest --under cup:2 --draw template.pdf\n"
    "  kilnstow fit order.json --piece torso --kiln kilns/oval-580x1040.json --rest --draw "
    "t.pdf";

static const char exit_words[] =
    "Exit status: 0 every piece asked about goes into a kiln, stands there and is held by its "
    "shelf "
    "and slab; 1 one does not.";

int ks_cli_fit(int argc, char **argv)
{
    ks_fit_job job = {.options = ks_fit_default(), .rounds = 3};
    ks_text_list pieces = {0}, kilns = {0}, under = {0};
    const char *drawn = NULL;
    const ks_option options[] = {
        {"piece", 'p', "ID", KS_OPT_LIST, &pieces, 0, 0,
         "this piece, told in full; may be given again. Without it all pieces, a line each"},
        {"columns", 0, "WORDS", KS_OPT_TEXT, &job.columns, 0, 0, KS_COLUMNS_HELP},
        {"kiln", 'k', "FILE", KS_OPT_LIST, &kilns, 0, 0,
         "this kiln; may be given again. Without it the kilns of the order"},
        {"all-kilns", 0, NULL, KS_OPT_FLAG, &job.all_kilns, 0, 0, "every kiln of the folder"},
        {"drawn", 0, "WHEN", KS_OPT_TEXT, &drawn, 0, 0,
         "its sizes are those it goes in with (now), or was made with (wet), or will have "
         "(finished)"},
        {"tape", 0, "LENGTH", KS_OPT_TEXT, &job.tape, 0, 0,
         "error of the tape, 3 mm (or 1 % if that is more)"},
        {"board", 0, "LENGTH", KS_OPT_TEXT, &job.board, 0, 0,
         "thickness of the board it is carried in on, 18 mm"},
        {"pairs", 0, NULL, KS_OPT_FLAG, &job.pairs, 0, 0,
         "which two of the pieces can share a level"},
        {"together", 0, NULL, KS_OPT_FLAG, &job.together, 0, 0,
         "whether all of the pieces go into one load"},
        {"rest", 0, NULL, KS_OPT_FLAG, &job.rest, 0, 0,
         "how much of the order goes in with the pieces"},
        {"output", 'o', "PLAN", KS_OPT_TEXT, &job.plan_path, 0, 0,
         "with --rest or --together: writes that load, for check, fire, cost and draw"},
        {"largest", 0, NULL, KS_OPT_FLAG, &job.largest, 0, 0,
         "instead: how large a form of the piece's clay, on such a slab, may be"},
        {"under", 0, "ID:N", KS_OPT_LIST, &under, 0, 0,
         "with --largest: N levels of that ware are to be under it; may be given again"},
        {"foot", 0, "SHAPE", KS_OPT_TEXT, &job.foot, 0, 0,
         "with --largest: only for a round, oval or square foot"},
        {"high", 0, "LENGTH", KS_OPT_TEXT, &job.high, 0, 0,
         "with --largest: only for a form so high"},
        {"rounds", 0, "N", KS_OPT_COUNT, &job.rounds, 1, 1000,
         "rounds of planning for --together and --rest, 3"},
        {"draw", 0, "FILE", KS_OPT_TEXT, &job.draw_path, 0, 0,
         "draws the one piece in its kiln, or the largest as a template: .pdf, .svg, .png or "
         ".html"},
        KS_OPTION_FORCE(&job.force),
    };
    const ks_command command = {
        "fit",      "tells whether a piece goes in on its setter, stands, and can be carried there",
        "ORDER",    1,
        1,          examples,
        exit_words, sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    job.n_pieces = pieces.n;
    job.pieces = pieces.texts;
    job.n_under = under.n;
    job.under = under.texts;
    job.n_kilns = kilns.n;
    job.kilns = kilns.texts;
    return ks_cli_finish(&cli, answer_fit(&cli, &job, drawn));
}
