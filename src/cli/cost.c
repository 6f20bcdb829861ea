/* cost.c: kilnstow cost. */
#include "cli/cli.h"

#include "app/answer.h"
#include "app/cost_run.h"
#include "base/date.h"
#include "base/money.h"
#include "cost/fine.h"

#include <stdio.h>
#include <string.h>

static const char *money(const ks_costing *costing, int64_t minor, ks_arena *arena)
{
    return ks_money_print(minor, costing->digits, arena);
}

/* Lines that are not whole minor units are shown to a hundredth of one. */
static void lines_told(const ks_costing *costing, const ks_cost_lines *lines, ks_arena *arena)
{
    for (int i = 0; i < lines->n; i++) {
        const ks_cost_line *line = &lines->lines[i];
        int64_t hundredths = ks_fine_minor(line->amount * 100);
        printf("  %14s %s  %-26s %s\n", ks_money_print(hundredths, costing->digits + 2, arena),
               costing->currency, line->what, line->how);
    }
}

static void start_told(const ks_load_bill *bill, ks_arena *arena)
{
    int64_t minute = bill->start_local_min;
    if (minute >= 0)
        printf(", starting %s %02d:%02d", ks_date_print((int)(minute / 1440), arena),
               (int)(minute % 1440 / 60), (int)(minute % 60));
}

static void bills_told(const ks_costing *costing, ks_arena *arena)
{
    for (int l = 0; l < costing->n_loads; l++) {
        const ks_load_bill *bill = &costing->loads[l];
        printf("Load %d: %s %s, %.1f kWh", l + 1, money(costing, bill->total_minor, arena),
               costing->currency, bill->kwh);
        if (bill->co2_kg >= 0)
            printf(", %.1f kg CO2", bill->co2_kg);
        start_told(bill, arena);
        printf("\n");
        lines_told(costing, &bill->lines, arena);
    }
}

static bool told_before(const ks_costing *costing, int i)
{
    for (int j = 0; j < i; j++)
        if (costing->pieces[j].piece == costing->pieces[i].piece &&
            costing->pieces[j].load == costing->pieces[i].load &&
            costing->pieces[j].total == costing->pieces[i].total)
            return true;
    return false;
}

static int copies_like(const ks_costing *costing, int i)
{
    int n = 0;
    for (int j = i; j < costing->n_pieces; j++)
        n += costing->pieces[j].piece == costing->pieces[i].piece &&
             costing->pieces[j].load == costing->pieces[i].load &&
             costing->pieces[j].total == costing->pieces[i].total;
    return n;
}

static void pieces_told(const ks_cost_outcome *outcome, ks_arena *arena)
{
    const ks_costing *costing = &outcome->costing;
    printf("\n  %-24s%6s%7s%10s%11s%10s%13s%10s   all in %s each\n", "piece", "load", "copies",
           "cost", "wholesale", "retail", "consignment", "shop", costing->currency);
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        if (told_before(costing, i))
            continue;
        printf(
            "  %-24.24s%6d%7d%10s%11s%10s%13s%10s\n", outcome->plan->order->pieces[cost->piece].id,
            cost->load + 1, copies_like(costing, i), money(costing, cost->cost_minor, arena),
            money(costing, cost->wholesale_minor, arena), money(costing, cost->retail_minor, arena),
            money(costing, cost->consignment_minor, arena),
            money(costing, cost->shop_minor, arena));
    }
}

static void shares_told(const ks_costing *costing, ks_arena *arena)
{
    printf("\nShares, together %s %s:\n", money(costing, costing->total_minor, arena),
           costing->currency);
    for (int i = 0; i < costing->n_shares; i++) {
        const ks_share *share = &costing->shares[i];
        if (share->pieces == 0 && share->lines.n == 0)
            continue;
        printf("  %14s %s  %s, %d piece%s\n", money(costing, share->minor, arena),
               costing->currency, share->name, share->pieces, share->pieces == 1 ? "" : "s");
        for (int k = 0; k < share->lines.n; k++)
            printf("  %22s    %s%s%s\n",
                   money(costing, ks_fine_minor(share->lines.lines[k].amount), arena),
                   share->lines.lines[k].what, *share->lines.lines[k].how ? ", " : "",
                   share->lines.lines[k].how);
    }
}

/* From kilowatt-hours and grams to the price, for the first copy of a piece. */
static ks_status piece_explained(const ks_cost_outcome *outcome, const char *id, ks_cli *cli)
{
    const ks_costing *costing = &outcome->costing;
    for (int i = 0; i < costing->n_pieces; i++) {
        const ks_piece_cost *cost = &costing->pieces[i];
        if (strcmp(outcome->plan->order->pieces[cost->piece].id, id) != 0)
            continue;
        printf("%s in load %d, the load's bill first:\n", id, cost->load + 1);
        lines_told(costing, &costing->loads[cost->load].lines, &cli->arena);
        printf("\nThe piece:\n");
        lines_told(costing, &cost->lines, &cli->arena);
        printf(
            "  %14s %s  cost\n  %14s %s  wholesale\n  %14s %s  retail\n  %14s %s  shop, with tax\n",
            money(costing, cost->cost_minor, &cli->arena), costing->currency,
            money(costing, cost->wholesale_minor, &cli->arena), costing->currency,
            money(costing, cost->retail_minor, &cli->arena), costing->currency,
            money(costing, cost->shop_minor, &cli->arena), costing->currency);
        return KS_OK;
    }
    return ks_fail(&cli->err, KS_BAD_USAGE, "--explain: found \"%s\"; no such piece is placed", id);
}

static void batches_told(const ks_cost_outcome *outcome, ks_arena *arena)
{
    ks_batch *batches;
    const ks_order *order = outcome->plan->order;
    int n = ks_glaze_batches(outcome->plan, arena, &batches);
    for (int i = 0; i < n; i++) {
        const ks_batch *batch = &batches[i];
        const ks_glaze *glaze = &order->glazes[batch->glaze];
        printf("\nGlaze %s for load %d: %.0f g dry, %s %s\n", glaze->name, batch->load + 1,
               batch->wanted_g, money(&outcome->costing, ks_fine_minor(batch->price), arena),
               order->currency);
        for (int k = 0; k < batch->n_grams; k++)
            printf("  %10.1f g  %s\n", batch->grams[k],
                   order->materials[glaze->lines[k].material].name);
    }
    if (n > 0)
        printf(
            "\nDry glaze materials are dust that harms lungs, and some are poisonous: weigh them "
            "wearing a fitted respirator, wet the floor, wash hands.\n");
}

int ks_cli_cost(int argc, char **argv)
{
    ks_cost_job job = {0};
    bool shares = false, batches = false;
    const char *explain = NULL;
    const ks_option options[] = {
        {"shares", 0, NULL, KS_OPT_FLAG, &shares, 0, 0, "settle the bill between members"},
        {"by", 0, "RULE", KS_OPT_TEXT, &job.rule, 0, 0,
         "share the firing by box, slices, shelf, mass, count or rate"},
        {"best-start", 0, NULL, KS_OPT_FLAG, &job.options.best_start, 0, 0,
         "start at the cheapest hour of the week"},
        {"explain", 0, "PIECE", KS_OPT_TEXT, &explain, 0, 0, "the whole sum for one piece"},
        {"batches", 0, NULL, KS_OPT_FLAG, &batches, 0, 0, "what glaze to weigh out for each load"},
        {"csv", 'o', "FILE", KS_OPT_TEXT, &job.csv_path, 0, 0, "every piece as a spreadsheet"},
    };
    const ks_command command = {
        "cost",
        "costs and prices the pieces of a plan, and settles between members",
        "PLAN",
        1,
        1,
        "  kilnstow cost plan.json --shares\n"
        "  kilnstow cost plan.json --explain mug\n"
        "  kilnstow cost plan.json --best-start --csv costs.csv",
        "The order must tell its costs; see docs/files.md.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_cost_outcome outcome = {0};
    job.plan_path = cli.parsed.args[0];
    if (ks_cost_run(&job, &cli.arena, &outcome, &cli.err) ||
        (explain && !cli.parsed.json && piece_explained(&outcome, explain, &cli)))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json) {
        fputs(ks_answer_cost(&outcome, &cli.arena), stdout);
    } else if (!explain) {
        bills_told(&outcome.costing, &cli.arena);
        pieces_told(&outcome, &cli.arena);
    }
    if (shares && !cli.parsed.json)
        shares_told(&outcome.costing, &cli.arena);
    if (batches && !cli.parsed.json)
        batches_told(&outcome, &cli.arena);
    return ks_cli_finish(&cli, KS_OK);
}
