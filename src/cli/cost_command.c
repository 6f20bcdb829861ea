/* cost.c: kilnstow cost. */
#include "cli/frame/cli.h"

#include "app/answers/answer.h"
#include "app/machine/where.h"
#include "cli/cost_tell.h"

#include <stdio.h>
#include <string.h>

static void tell_statements(const ks_cost_outcome *outcome)
{
    static const char rule[] =
        "\n------------------------------------------------------------------------\n\n";
    for (int i = 0; i < outcome->n_statements; i++)
        printf("%s%s", i > 0 ? rule : "", outcome->statements[i]);
}

/* In words. What is asked about one piece, glaze or member stands without the bills before it. */
static void tell(const ks_cost_outcome *outcome, bool shares, bool batches, ks_arena *arena)
{
    bool alone = outcome->explained || outcome->n_what_if || outcome->additions ||
                 outcome->n_statements || outcome->compared;
    if (!alone) {
        ks_tell_bills(&outcome->costing, arena);
        if (!outcome->starts)
            ks_tell_pieces(outcome, arena);
    }
    tell_statements(outcome);
    if (outcome->explained)
        ks_tell_piece(outcome, outcome->explained, arena);
    if (outcome->n_what_if > 0)
        ks_tell_what_if(outcome, arena);
    if (outcome->additions)
        ks_tell_additions(outcome, arena);
    if (outcome->compared)
        ks_tell_kilns(outcome, arena);
    if (outcome->starts)
        ks_tell_starts(outcome, arena);
    if (shares)
        ks_tell_shares(&outcome->costing, arena);
    if (batches)
        ks_tell_batches(outcome, arena);
    if (outcome->options.losses)
        printf(
            "Losses by the record: %.0f of %d pieces in %d firings; what the order tells of them "
            "counts as 100 pieces more. \"kilnstow log losses\" tells by what they go.\n",
            outcome->lost.lost, outcome->lost.copies, outcome->lost.firings);
    if (outcome->n_statements == 0)
        ks_tell_assumed(&outcome->costing);
}

/* What the words about the spreadsheet mean. */
static ks_status read_style(ks_cost_job *job, const char *table, const char *separator,
                            const char *decimal, ks_error *err)
{
    static const char *const tables[] = {"pieces", "shares", "bills"};
    int which = 0;
    while (which < 3 && strcmp(tables[which], table) != 0)
        which++;
    bool tab = strcmp(separator, "tab") == 0;
    if (which == 3)
        return ks_fail(err, KS_BAD_USAGE, "--table: found \"%s\"; it takes pieces, shares or bills",
                       table);
    if (!tab && strcmp(separator, ",") != 0 && strcmp(separator, ";") != 0)
        return ks_fail(err, KS_BAD_USAGE, "--separator: found \"%s\"; it takes , or ; or tab",
                       separator);
    if (strcmp(decimal, ".") != 0 && strcmp(decimal, ",") != 0)
        return ks_fail(err, KS_BAD_USAGE, "--decimal: found \"%s\"; it takes . or ,", decimal);
    if (strcmp(decimal, separator) == 0)
        return ks_fail(err, KS_BAD_USAGE,
                       "--decimal: found , which --separator is too; add --separator \";\"");
    job->table = (ks_cost_table)which;
    job->csv = (ks_csv_style){tab ? '\t' : *separator, *decimal};
    return KS_OK;
}

static const char cost_examples[] = "  kilnstow cost plan.json --shares\n"
                                    "  kilnstow cost plan.json --explain mug --what-if mug\n"
                                    "  kilnstow cost plan.json --kilns round-450,round-690\n"
                                    "  kilnstow cost plan.json --csv costs.csv";

/* Loads are counted from 0 within. */
static void ask_kilns(ks_cost_job *job, ks_arena *arena)
{
    job->load -= job->load > 0;
    job->kiln_folder = ks_where_kilns(arena);
}

int ks_cli_cost(int argc, char **argv)
{
    ks_cost_job job = {0};
    bool shares = false, batches = false;
    const char *table = "pieces", *separator = ",", *decimal = ".";
    const ks_option options[] = {
        {"shares", 0, NULL, KS_OPT_FLAG, &shares, 0, 0, "settle the bill between members"},
        {"statement", 0, "MEMBER", KS_OPT_TEXT, &job.statement, 0, 0,
         "one member's account, ready to send; or all, or studio"},
        {"by", 0, "RULE", KS_OPT_TEXT, &job.rule, 0, 0,
         "share the firing by box, slices, shelf, mass, count, sides or rate"},
        {"best-start", 0, NULL, KS_OPT_FLAG, &job.best_start, 0, 0,
         "cheaper hours to start within a week, and what they save; no bill changes"},
        {"explain", 0, "PIECE", KS_OPT_TEXT, &job.explain, 0, 0, "the whole sum for one piece"},
        {"what-if", 0, "PIECE", KS_OPT_TEXT, &job.what_if, 0, 0,
         "its price with more ware, a cone lower, slower: fired anew"},
        {"kilns", 0, "LIST", KS_OPT_TEXT, &job.kilns, 0, 0,
         "what one load takes and costs in other kilns: all of the order, or names"},
        {"load", 0, "N", KS_OPT_COUNT, &job.load, 1, 10000, "which load for --kilns; 1"},
        {"batches", 0, NULL, KS_OPT_FLAG, &batches, 0, 0, "what glaze to weigh out for each load"},
        {"additions", 0, "GLAZE=5,10", KS_OPT_TEXT, &job.additions, 0, 0,
         "the glaze with its dearest addition, or GLAZE:MATERIAL, at these per cents"},
        {"csv", 'o', "FILE", KS_OPT_TEXT, &job.csv_path, 0, 0,
         "every piece as a spreadsheet; - is standard output"},
        {"table", 0, "WHICH", KS_OPT_TEXT, &table, 0, 0,
         "what the spreadsheet holds: pieces, shares or bills"},
        {"separator", 0, "SIGN", KS_OPT_TEXT, &separator, 0, 0, "between its cells: , or ; or tab"},
        {"decimal", 0, "SIGN", KS_OPT_TEXT, &decimal, 0, 0, "of its numbers: . or ,"},
        KS_OPTION_TUNED(&job.book_path),
        KS_OPTION_FORCE(&job.force),
    };
    const ks_command command = {
        "cost",
        "costs and prices the pieces of a plan, and settles between members",
        "PLAN",
        1,
        1,
        cost_examples,
        "The order must tell its costs; see docs/files.md and docs/costing.md.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_cost_outcome outcome = {0};
    job.plan_path = cli.parsed.args[0];
    ask_kilns(&job, &cli.arena);
    ks_status status = ks_cli_output_check(&cli, job.csv_path);
    if (!status)
        status = read_style(&job, table, separator, decimal, &cli.err);
    if (!status)
        status = ks_cost_run(&job, &cli.arena, &outcome, &cli.err);
    ks_cli_output_done(job.csv_path);
    if (!status && cli.parsed.json)
        fputs(ks_answer_cost(&outcome, &cli.arena), stdout);
    else if (!status)
        tell(&outcome, shares, batches, &cli.arena);
    return ks_cli_finish(&cli, status ? ks_cli_failed(&cli) : KS_OK);
}
