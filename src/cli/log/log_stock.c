/* kilnstow log upkeep and log stock: what breaks, what is bought and renewed, and what is left. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "app/record/stock.h"

#include <stdio.h>

int ks_cli_log_upkeep(int argc, char **argv)
{
    const char *book_path = NULL;
    ks_book_upkeep upkeep = {.copies = 1};
    const ks_option options[] = {
        {"copies", 0, "N", KS_OPT_COUNT, &upkeep.copies, 1, 10000, "how many; one unless told"},
        {"day", 0, "DATE", KS_OPT_TEXT, &upkeep.day, 0, 0, "when; today unless told"},
        {"note", 0, "TEXT", KS_OPT_TEXT, &upkeep.note, 0, 0, "how, or what for"},
        KS_OPTION_BOOK(&book_path),
    };
    const ks_command command = {
        "log upkeep",
        "a shelf or post broken or bought, elements, thermocouple or wash renewed",
        "KILN ITEM WHAT",
        3,
        3,
        "  kilnstow log upkeep round-690 half broken\n"
        "  kilnstow log upkeep round-690 post-203 bought --copies 3\n"
        "  kilnstow log upkeep round-690 elements renewed --day 2026-11-20",
        "KILN is a file, or the id of a kiln that came with the program. With --book, place counts "
        "out what is\nbroken since the \"stock_date\" of the kiln's file.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    char **args = cli.parsed.args;
    upkeep.item = args[1];
    upkeep.done = args[2];
    if (ks_upkeep_write(book_path, args[0], &upkeep, &cli.arena, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_written(ks_book_path(book_path), 1, &cli.arena), stdout);
    else
        printf("%s, %s, %s: %s. Written to %s.\n", upkeep.day, upkeep.kiln, upkeep.item,
               upkeep.done, ks_book_path(book_path));
    return ks_cli_finish(&cli, KS_OK);
}

static void tell_part(const ks_part_age *part)
{
    if (*part->since)
        printf("  %-14s %d firings since it was renewed on %s\n", part->part, part->firings,
               part->since);
    else
        printf("  %-14s %d firings in the record; no renewal is told\n", part->part, part->firings);
}

static void tell_stock(const ks_kiln_stock *stock)
{
    if (*stock->since)
        printf("%s: its file tells the stock of %s; broken and bought since then:\n",
               stock->kiln->id, stock->since);
    else
        printf("%s: its file tells no \"stock_date\", so all that was ever broken or bought "
               "counts:\n",
               stock->kiln->id);
    for (int i = 0; i < stock->n; i++) {
        const ks_stock_line *line = &stock->lines[i];
        printf("  %-14s %3d left of %d (broken %d, bought %d)\n", line->item, line->left,
               line->listed, line->broken, line->bought);
    }
    for (int p = 0; p < KS_PARTS; p++)
        tell_part(&stock->parts[p]);
}

int ks_cli_log_stock(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {
        "log stock", "shelves and posts that are left, and how old a kiln's parts are",
        "KILN",      1,
        1,           "  kilnstow log stock round-690",
        NULL,        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    ks_kiln_stock stock;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    if (ks_stock_look(book_path, cli.parsed.args[0], &cli.arena, &stock, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_stock(&stock, &cli.arena), stdout);
    else
        tell_stock(&stock);
    return ks_cli_finish(&cli, KS_OK);
}
