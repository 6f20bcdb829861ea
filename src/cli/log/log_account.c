/* kilnstow log account, log paid and log waiting. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "cli/log/log_told.h"

#include <stdio.h>

static void tell_account(const ks_account *account, ks_arena *arena)
{
    printf("%s\n", *account->name     ? account->name
                   : *account->member ? account->member
                                      : ks_tr("the studio"));
    if (account->before != 0)
        printf("  %-16s  %-40s  %12s  %12s\n", "", ks_tr("owed before"), "",
               ks_cli_amount(account->before, account->digits, account->currency, arena));
    for (int i = 0; i < account->n; i++) {
        const ks_account_line *line = &account->lines[i];
        const char *what = line->payment && !*line->what ? ks_tr("payment") : line->what;
        printf("  %-16s  %-40s  %12s  %12s\n", line->day, what,
               ks_cli_amount(line->minor, account->digits, account->currency, arena),
               ks_cli_amount(line->balance, account->digits, account->currency, arena));
    }
    if (account->owed < 0)
        printf("  paid ahead: %s\n\n",
               ks_cli_amount(-account->owed, account->digits, account->currency, arena));
    else
        printf("  owed: %s\n\n",
               ks_cli_amount(account->owed, account->digits, account->currency, arena));
}

static int account(ks_cli *cli, const char *book_path, const char *from, const char *to)
{
    ks_book *book = NULL;
    int n = 0;
    ks_account *accounts = NULL;
    ks_status status = ks_cli_days_check(cli, from, to);
    if (!status)
        status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, &cli->err);
    if (!status)
        status = ks_book_accounts(book, cli->parsed.n_args > 0 ? cli->parsed.args[0] : NULL, from,
                                  to, &cli->arena, &n, &accounts, &cli->err);
    ks_book_close(book);
    if (status)
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(ks_answer_accounts(n, accounts, &cli->arena), stdout);
    for (int i = 0; i < n && !cli->parsed.json; i++)
        tell_account(&accounts[i], &cli->arena);
    if (n == 0 && !cli->parsed.json)
        printf("Nothing was charged yet: a firing is, once its meter's reading is logged.\n");
    return KS_OK;
}

int ks_cli_log_account(int argc, char **argv)
{
    const char *book_path = NULL, *from = NULL, *to = NULL;
    const ks_option options[] = {
        {"from", 0, "DATE", KS_OPT_TEXT, &from, 0, 0, "lines from this day on"},
        {"to", 0, "DATE", KS_OPT_TEXT, &to, 0, 0, "and up to this day"},
        KS_OPTION_BOOK(&book_path),
    };
    const ks_command command = {"log account",
                                "what members owe: each charge by the meter, each payment, the "
                                "balance after it",
                                "[MEMBER]",
                                0,
                                1,
                                "  kilnstow log account\n"
                                "  kilnstow log account Ruth --from 2026-10-01 --to 2026-12-31",
                                NULL,
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, account(&cli, book_path, from, to));
}

int ks_cli_log_paid(int argc, char **argv)
{
    const char *book_path = NULL, *day = NULL, *note = NULL;
    const ks_option options[] = {
        {"day", 0, "DATE", KS_OPT_TEXT, &day, 0, 0, "when; today unless told"},
        {"note", 0, "TEXT", KS_OPT_TEXT, &note, 0, 0, "how, or what for"},
        KS_OPTION_BOOK(&book_path),
    };
    const ks_command command = {"log paid",
                                "a payment by a member; a negative amount was paid back",
                                "MEMBER AMOUNT",
                                2,
                                2,
                                "  kilnstow log paid Ruth 12.50\n"
                                "  kilnstow log paid --note \"entered twice\" Ruth -- -12.50",
                                NULL,
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    ks_book_payment payment;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    char **args = cli.parsed.args;
    if (ks_log_pay(book_path, args[0], args[1], day, note, &cli.arena, &payment, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_written(ks_book_path(book_path), 1, &cli.arena), stdout);
    else
        printf("Paid by %s on %s: %s. Written to %s.\n", payment.member, payment.day,
               ks_cli_amount(payment.minor, payment.digits, payment.currency, &cli.arena),
               ks_book_path(book_path));
    return ks_cli_finish(&cli, KS_OK);
}

static void tell_waiting(int n, const ks_waiting_ware *waiting)
{
    if (n == 0)
        printf("Nothing waits: the last plan that was fired took all in.\n");
    for (int i = 0; i < n; i++)
        printf("%-16s  %3d x %-16s  left out %d times, since %.10s: %s\n",
               *waiting[i].member ? waiting[i].member : ks_tr("the studio"), waiting[i].copies,
               waiting[i].piece, waiting[i].times, waiting[i].since, ks_tr(waiting[i].why));
}

int ks_cli_log_waiting(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log waiting",
                                "ware that the last plan fired left out, and for how many plans",
                                "",
                                0,
                                0,
                                "  kilnstow log waiting",
                                NULL,
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status, n = 0;
    ks_book *book = NULL;
    ks_waiting_ware *waiting = NULL;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, &cli.err);
    if (!status)
        status = ks_book_waiting(book, &cli.arena, &n, &waiting, &cli.err);
    ks_book_close(book);
    if (status)
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_waiting(n, waiting, &cli.arena), stdout);
    else
        tell_waiting(n, waiting);
    return ks_cli_finish(&cli, KS_OK);
}
