/* cost.c: kilnstow cost. */
#include "cli/cli.h"

#include "app/answer.h"
#include "cli/cost_tell.h"

#include <stdio.h>
#include <string.h>

/* What was asked to be shown beside the bills. */
typedef struct {
    bool shares, batches;
    const char *explain, *statement, *what_if, *additions;
} wanted;

static ks_status piece_found(const ks_cost_outcome *outcome, const char *option, const char *id,
                             const ks_piece_cost **out, ks_error *err)
{
    *out = NULL;
    for (int i = 0; i < outcome->costing.n_pieces; i++) {
        *out = &outcome->costing.pieces[i];
        if (strcmp(outcome->plan->order->pieces[(*out)->piece].id, id) == 0)
            return KS_OK;
    }
    return ks_fail(err, KS_BAD_USAGE,
                   "--%s: found \"%s\"; no piece of that id is placed in the plan", option, id);
}

static ks_status explained(const ks_cost_outcome *outcome, const char *id, ks_cli *cli)
{
    const ks_piece_cost *cost;
    ks_status status = piece_found(outcome, "explain", id, &cost, &cli->err);
    if (!status)
        ks_tell_piece(outcome, cost, &cli->arena);
    return status;
}

static ks_status varied(const ks_cost_outcome *outcome, const char *id, ks_cli *cli)
{
    const ks_piece_cost *cost;
    ks_what_if *lines;
    int n;
    ks_status status = piece_found(outcome, "what-if", id, &cost, &cli->err);
    if (!status)
        status = ks_cost_what_if(outcome->plan, outcome->fire.fired, &outcome->options, cost,
                                 &cli->arena, &n, &lines, &cli->err);
    if (!status)
        ks_tell_what_if(&outcome->costing, n, lines, &cli->arena);
    return status;
}

static ks_status additions_compared(const ks_cost_outcome *outcome, const char *told, ks_cli *cli)
{
    ks_additions additions;
    ks_status status =
        ks_additions_read(outcome->plan->order, told, &cli->arena, &additions, &cli->err);
    if (!status)
        ks_tell_additions(outcome, &additions, &cli->arena);
    return status;
}

static bool meant(const ks_share *share, const char *told)
{
    return strcmp(told, "all") == 0 ? share->pieces > 0 || share->lines.n > 0
           : strcmp(told, "studio") == 0 && !*share->member
               ? true
               : *share->member &&
                     (strcmp(share->member, told) == 0 || strcmp(share->name, told) == 0);
}

static ks_status statements(const ks_cost_outcome *outcome, const char *told, ks_cli *cli)
{
    const ks_costing *costing = &outcome->costing;
    int written = 0;
    for (int i = 0; i < costing->n_shares; i++)
        if (meant(&costing->shares[i], told)) {
            const char *text = ks_statement(outcome->plan, costing, i, &cli->arena);
            printf("%s%s",
                   written++ > 0 ? "\n-------------------------------------------------------------"
                                   "-----------\n\n"
                                 : "",
                   text);
        }
    if (written > 0)
        return KS_OK;
    return ks_fail(&cli->err, KS_BAD_USAGE,
                   "--statement: found \"%s\"; a member's id or name, studio, or all is needed",
                   told);
}

/* In words. A statement and an explanation stand alone, so that they can be sent as they are. */
static ks_status told(const ks_cost_outcome *outcome, const wanted *want, ks_cli *cli)
{
    ks_status status = KS_OK;
    bool alone = want->explain || want->statement || want->what_if || want->additions;
    if (!alone) {
        ks_tell_bills(&outcome->costing, &cli->arena);
        ks_tell_pieces(outcome, &cli->arena);
    }
    if (want->statement)
        status = statements(outcome, want->statement, cli);
    if (!status && want->explain)
        status = explained(outcome, want->explain, cli);
    if (!status && want->what_if)
        status = varied(outcome, want->what_if, cli);
    if (!status && want->additions)
        status = additions_compared(outcome, want->additions, cli);
    if (!status && want->shares)
        ks_tell_shares(&outcome->costing, &cli->arena);
    if (!status && want->batches)
        ks_tell_batches(outcome, &cli->arena);
    if (!status && !want->statement)
        ks_tell_assumed(&outcome->costing);
    return status;
}

int ks_cli_cost(int argc, char **argv)
{
    ks_cost_job job = {0};
    wanted want = {0};
    const ks_option options[] = {
        {"shares", 0, NULL, KS_OPT_FLAG, &want.shares, 0, 0, "settle the bill between members"},
        {"statement", 0, "MEMBER", KS_OPT_TEXT, &want.statement, 0, 0,
         "one member's account, ready to send; or all, or studio"},
        {"by", 0, "RULE", KS_OPT_TEXT, &job.rule, 0, 0,
         "share the firing by box, slices, shelf, mass, count or rate"},
        {"best-start", 0, NULL, KS_OPT_FLAG, &job.options.best_start, 0, 0,
         "start at the cheapest hour of the week, and say what it saves"},
        {"explain", 0, "PIECE", KS_OPT_TEXT, &want.explain, 0, 0, "the whole sum for one piece"},
        {"what-if", 0, "PIECE", KS_OPT_TEXT, &want.what_if, 0, 0,
         "its price with more ware, a cone lower, slower: fired anew"},
        {"batches", 0, NULL, KS_OPT_FLAG, &want.batches, 0, 0,
         "what glaze to weigh out for each load"},
        {"additions", 0, "GLAZE=5,10", KS_OPT_TEXT, &want.additions, 0, 0,
         "the glaze with its dearest addition, or GLAZE:MATERIAL, at these per cents"},
        {"csv", 'o', "FILE", KS_OPT_TEXT, &job.csv_path, 0, 0, "every piece as a spreadsheet"},
    };
    const ks_command command = {
        "cost",
        "costs and prices the pieces of a plan, and settles between members",
        "PLAN",
        1,
        1,
        "  kilnstow cost plan.json --shares\n"
        "  kilnstow cost plan.json --explain mug --what-if mug\n"
        "  kilnstow cost plan.json --best-start --csv costs.csv",
        "The order must tell its costs; see docs/files.md and docs/costing.md.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_cost_outcome outcome = {0};
    job.plan_path = cli.parsed.args[0];
    ks_status status = ks_cost_run(&job, &cli.arena, &outcome, &cli.err);
    if (!status && cli.parsed.json)
        fputs(ks_answer_cost(&outcome, &cli.arena), stdout);
    else if (!status)
        status = told(&outcome, &want, &cli);
    return ks_cli_finish(&cli, status ? ks_cli_failed(&cli) : KS_OK);
}
