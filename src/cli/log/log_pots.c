/* kilnstow log became and log pots: what became of ware, and the life of each kind. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "app/record/pots.h"

#include <stdio.h>

int ks_cli_log_became(int argc, char **argv)
{
    const char *book_path = NULL, *price = NULL;
    ks_book_fate fate = {.copies = 1};
    const ks_option options[] = {
        {"copies", 0, "N", KS_OPT_COUNT, &fate.copies, 1, 10000, "how many; one unless told"},
        {"member", 0, "ID", KS_OPT_TEXT, &fate.member, 0, 0,
         "whose; found by the piece unless told"},
        {"price", 0, "AMOUNT", KS_OPT_TEXT, &price, 0, 0, "paid for all of them"},
        {"day", 0, "DATE", KS_OPT_TEXT, &fate.day, 0, 0, "when; today unless told"},
        {"note", 0, "TEXT", KS_OPT_TEXT, &fate.note, 0, 0, "where, or to whom"},
        KS_OPTION_BOOK(&book_path),
    };
    const ks_command command = {"log became",
                                "ware that was sold, went on commission, is a second, came back or "
                                "was lost",
                                "PIECE WHAT",
                                2,
                                2,
                                "  kilnstow log became mug sold --copies 3 --price 84\n"
                                "  kilnstow log became vase commission --note \"gallery\"",
                                "WHAT is sold, commission, second, back or lost.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    fate.piece = cli.parsed.args[0];
    fate.became = cli.parsed.args[1];
    if (ks_fate_write(book_path, price, &fate, &cli.arena, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_written(ks_book_path(book_path), 1, &cli.arena), stdout);
    else
        printf("%d x %s: %s. Written to %s.\n", fate.copies, fate.piece, fate.became,
               ks_book_path(book_path));
    return ks_cli_finish(&cli, KS_OK);
}

static void tell_pots(int n, const ks_pot_life *pots)
{
    if (n == 0)
        printf("No firing of the record tells yet what went in.\n");
    else
        printf("%-20s %-12s %6s %6s %6s %6s %6s %6s\n", ks_tr("piece"), ks_tr("owner"),
               ks_tr("fired"), ks_tr("lost"), ks_tr("again"), ks_tr("sold"), ks_tr("shops"),
               ks_tr("seconds"));
    for (int i = 0; i < n; i++)
        printf("%-20s %-12s %6d %6d %6d %6d %6d %6d\n", pots[i].piece,
               *pots[i].owner ? pots[i].owner : ks_tr("the studio"), pots[i].fired, pots[i].lost,
               pots[i].again, pots[i].sold, pots[i].commission, pots[i].seconds);
}

int ks_cli_log_pots(int argc, char **argv)
{
    const char *book_path = NULL, *member = NULL;
    const ks_option options[] = {
        {"member", 0, "ID", KS_OPT_TEXT, &member, 0, 0, "of this owner only"},
        KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log pots",
                                "each kind of ware: how often fired, lost, fired again, sold",
                                "",
                                0,
                                0,
                                "  kilnstow log pots --member ines",
                                "A piece that was in a bisque and in a glaze firing was fired "
                                "twice.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status, n;
    ks_pot_life *pots;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    if (ks_pots_look(book_path, member, &cli.arena, &n, &pots, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_pots(n, pots, &cli.arena), stdout);
    else
        tell_pots(n, pots);
    return ks_cli_finish(&cli, KS_OK);
}
