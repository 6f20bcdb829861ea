/* kilnstow log next: the coming firings of each kiln. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "base/days/date.h"
#include "base/money_text.h"
#include "base/text.h"
#include "cli/frame/speech.h"
#include "cli/log/log_told.h"

#include <stdio.h>

static const char *time_words(const ks_next_outcome *next, int64_t utc_s, ks_arena *arena)
{
    return utc_s == KS_NO_TIME ? "-" : ks_zone_print(&next->zone, utc_s, arena);
}

/* "12 x mug, 3 x bowl (late: due 2026-12-01)". */
static const char *ware_words(const ks_order *order, int n, const ks_next_ware *ware,
                              ks_arena *arena)
{
    ks_text text = {.arena = arena};
    for (int i = 0; i < n; i++) {
        const ks_piece *piece = &order->pieces[ware[i].piece];
        ks_text_add(&text, i > 0 ? ", " : "");
        ks_text_print(&text, "%d x %s", ware[i].copies, piece->id);
        if (piece->due_day == KS_NO_DAY)
            continue;
        const char *day = ks_date_print(piece->due_day, arena);
        if (ware[i].late)
            ks_text_print(&text, " (LATE: due %s)", day);
        else
            ks_text_print(&text, " (due %s)", day);
    }
    return ks_text_end(&text);
}

static const char *why_words(const ks_next_firing *firing)
{
    switch (firing->why) {
    case KS_NEXT_DATED:
        return ks_tr("its day is told by the order");
    case KS_NEXT_FULL:
        return ks_tr("there is ware for a full kiln");
    case KS_NEXT_DUE:
        return ks_tr("not full, but some is due: as late as keeps it in time with a day to spare, "
                     "so that more ware can join");
    case KS_NEXT_WAITED:
        return ks_tr("not full, but some must go, or was left out again and again");
    default:
        return "";
    }
}

static void tell_fullness(const ks_next_outcome *next, const ks_next_firing *firing)
{
    ks_next_fullness full = ks_next_fullness_of(next, firing);
    printf("    %.0f l of ware: %.0f %% of a full kiln (%.0f to %.0f %%, 9 in 10)\n",
           firing->litres, 100 * full.part, 100 * full.low, 100 * full.high);
}

static void tell_firing(const ks_next_outcome *next, const ks_next_firing *firing, ks_arena *arena)
{
    const ks_order *order = next->order;
    const char *kiln = order->kilns[firing->kiln].id;
    const ks_occupation *at = &firing->at;
    if (firing->n_ware == 0) {
        printf("%s, %s: no ware waits for it\n", time_words(next, at->on_s, arena), kiln);
        return;
    }
    printf("%s, %s, %s: %s\n", time_words(next, at->on_s, arena), kiln,
           order->firings[firing->firing].id, why_words(firing));
    printf("    load from %s, over %s, safe to open %s\n", time_words(next, at->loading_s, arena),
           time_words(next, at->ended_s, arena), time_words(next, at->open_s, arena));
    tell_fullness(next, firing);
    printf("    %s\n", ware_words(order, firing->n_ware, firing->ware, arena));
    if (firing->saves_minor > 0)
        printf("    its electricity costs %s less than from the first free hour of that day\n",
               ks_cli_amount(firing->saves_minor, ks_currency_digits(order->currency),
                             order->currency, arena));
}

static void tell_waiting(const ks_next_outcome *next, const ks_next_firing *firing, ks_arena *arena)
{
    const ks_order *order = next->order;
    printf("\nwaits for more ware: %s, %s (about %.0f l more fill it)\n",
           order->kilns[firing->kiln].id, order->firings[firing->firing].id,
           ks_next_full_litres(next, firing->kiln) - firing->litres);
    tell_fullness(next, firing);
    printf("    %s\n", ware_words(order, firing->n_ware, firing->ware, arena));
}

static void tell_assumed(const ks_next_outcome *next)
{
    printf("\nAssumed:\n");
    for (int k = 0; k < next->order->n_kilns; k++) {
        const ks_usual_fill *fill = &next->fills[k];
        printf("  a full %s holds %.0f l of ware", next->order->kilns[k].id,
               ks_next_full_litres(next, k));
        if (fill->loads > 0)
            printf(", by %d full loads of the record\n", fill->loads);
        else
            printf(", %.0f %% of its chamber: as loads of the examples do, until the record has "
                   "full ones\n",
                   100 * fill->part);
    }
    if (!next->has_book)
        printf("  no record is there yet: all kilns are cold and free\n");
    if (next->people.n_open == 0)
        printf("  someone is at the studio from 6 to 22 o'clock; the order's opening_hours tell "
               "your own\n");
    printf("Nothing is placed here: place tells what really goes in, and calendar holds its loads. "
           "A simulated\nfiring may take longer; be there when it should end, and never open a hot "
           "kiln.\n");
}

static void tell_next(const ks_next_outcome *next, ks_arena *arena)
{
    for (int i = 0; i < next->n_cooling; i++)
        printf("%s is still in use by entry %d: safe to open %s\n",
               next->order->kilns[next->cooling[i].kiln].id, next->cooling[i].entry,
               time_words(next, next->cooling[i].at.open_s, arena));
    if (next->n == 0)
        printf("No ware waits, and no firing is dated.\n");
    for (int i = 0; i < next->n; i++)
        if (next->firings[i].why == KS_NEXT_WAITS)
            tell_waiting(next, &next->firings[i], arena);
        else
            tell_firing(next, &next->firings[i], arena);
    if (next->n_nowhere > 0)
        printf("\nno kiln and firing of the order takes: %s (fit tells why)\n",
               ware_words(next->order, next->n_nowhere, next->nowhere, arena));
    tell_assumed(next);
}

int ks_cli_log_next(int argc, char **argv)
{
    ks_next_job job = {0};
    const ks_option options[] = {
        {"from", 0, "DATE", KS_OPT_TEXT, &job.from, 0, 0, "the first day; from now on unless told"},
        KS_OPTION_BOOK(&job.book_path)};
    const ks_command command = {
        "log next",
        "the coming firings of each kiln: from what waits, is due, is cheap",
        "ORDER",
        1,
        1,
        "  kilnstow log next order.json\n"
        "  kilnstow log next order.json --from 2026-12-01",
        "A full kiln is proposed for its first free start, one that is not full for the last start "
        "that keeps\nwhat is due in time; of that day's hours the cheapest. Other ware waits for a "
        "full kiln. Days that\nthe order tells stay.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    ks_next_outcome next;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    job.order_path = cli.parsed.args[0];
    if (ks_next_run(&job, &cli.arena, &next, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_next(&next, &cli.arena), stdout);
    else
        tell_next(&next, &cli.arena);
    return ks_cli_finish(&cli, KS_OK);
}
