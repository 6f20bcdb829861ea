/* kilnstow log list and log show. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "cli/log/log_told.h"

#include <stdio.h>

static int list(ks_cli *cli, const char *book_path, ks_book_asked *asked)
{
    ks_log_listed listed;
    asked->lists = cli->parsed.json ? KS_LISTS_SHORT : KS_LIST_LOSSES;
    if (ks_cli_days_check(cli, asked->from, asked->to) ||
        ks_log_list(book_path, asked, &cli->arena, &listed, &cli->err))
        return ks_cli_failed(cli);
    if (cli->parsed.json) {
        fputs(ks_answer_log(listed.n, listed.firings, NULL, &cli->arena), stdout);
        return KS_OK;
    }
    if (listed.n == 0) {
        printf("No firing of that kind stands in %s.\n", listed.book_path);
        return KS_OK;
    }
    ks_cli_log_line_head();
    for (int i = 0; i < listed.n; i++)
        ks_cli_log_line(&listed.firings[i], &cli->arena);
    return KS_OK;
}

int ks_cli_log_list(int argc, char **argv)
{
    const char *book_path = NULL;
    ks_book_asked asked = {0};
    const ks_option options[] = {
        {"kiln", 0, "ID", KS_OPT_TEXT, &asked.kiln, 0, 0, "of this kiln only"},
        {"from", 0, "DATE", KS_OPT_TEXT, &asked.from, 0, 0, "from this day on"},
        {"to", 0, "DATE", KS_OPT_TEXT, &asked.to, 0, 0, "up to this day"},
        {"struck", 0, NULL, KS_OPT_FLAG, &asked.struck, 0, 0, "those struck out as well"},
        KS_OPTION_BOOK(&book_path),
    };
    const ks_command command = {"log list",
                                "the firings of the record, by when they were switched on",
                                "",
                                0,
                                0,
                                "  kilnstow log list\n"
                                "  kilnstow log list --kiln round-690 --from 2026-10-01",
                                NULL,
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, list(&cli, book_path, &asked));
}

static int show(ks_cli *cli, const char *book_path)
{
    ks_log_listed listed;
    int n = 0;
    ks_status status = ks_cli_entry_number(cli, &n);
    if (!status)
        status = ks_log_list(
            book_path,
            &(ks_book_asked){.n = n, .editions = true, .struck = true, .lists = KS_LISTS_ALL},
            &cli->arena, &listed, &cli->err);
    if (!status && listed.n == 0)
        status = ks_fail(&cli->err, KS_BAD_USAGE, "log show: found %d; %s has no such entry", n,
                         listed.book_path);
    if (status)
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(ks_answer_log(listed.n, listed.firings, NULL, &cli->arena), stdout);
    for (int i = listed.n - 1; i >= 0 && !cli->parsed.json; i--) {
        if (i == listed.n - 2)
            printf("\nWhat stood before:\n");
        ks_cli_log_entry(&listed.firings[i], &cli->arena);
    }
    return KS_OK;
}

int ks_cli_log_show(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log show", "one entry in full, with all that stood before",
                                "N",        1,
                                1,          "  kilnstow log show 3",
                                NULL,       sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, show(&cli, book_path));
}
