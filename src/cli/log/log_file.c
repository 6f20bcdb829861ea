/* kilnstow log export, import, copy, open and sound: the record's file as a whole. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "app/record/copy_folder.h"
#include "base/path.h"
#include "base/text.h"
#include "cli/frame/speech.h"

#include <stdio.h>

static int tell_written(ks_cli *cli, const char *path, int added)
{
    if (cli->parsed.json)
        fputs(ks_answer_written(path, added, &cli->arena), stdout);
    else if (added >= 0)
        printf("%d editions were new. Written to %s.\n", added, path);
    else
        printf("%s\n", path);
    return KS_OK;
}

int ks_cli_log_export(int argc, char **argv)
{
    const char *book_path = NULL;
    bool force = false;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path), KS_OPTION_FORCE(&force)};
    const ks_command command = {"log export",
                                "all of the record as .json, or its firings as .csv",
                                "FILE",
                                1,
                                1,
                                "  kilnstow log export record.json\n"
                                "  kilnstow log export firings.csv",
                                "The .json holds every edition and plan; log import reads it. The "
                                ".csv has one row for each firing.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    const char *path = cli.parsed.args[0];
    if (ks_cli_output_check(&cli, path) ||
        ks_log_export(book_path, path, force, &cli.arena, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    ks_cli_output_done(path);
    return ks_cli_finish(&cli, tell_written(&cli, path, -1));
}

int ks_cli_log_import(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log import",
                                "takes in what another record has exported",
                                "FILE",
                                1,
                                1,
                                "  kilnstow log import record.json",
                                "What the record has already is passed over; an entry whose number "
                                "is taken gets the next free one.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status, added = 0;
    ks_book *book = NULL;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_MAKE, &book, &cli.err);
    if (!status)
        status = ks_book_import(book, cli.parsed.args[0], &cli.arena, &added, &cli.err);
    ks_book_close(book);
    if (status)
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    return ks_cli_finish(&cli, tell_written(&cli, ks_book_path(book_path), added));
}

static void tell_outside(const ks_folder_copy *copy)
{
    for (int i = 0; i < copy->n_outside; i++)
        printf("Note: an order reads %s, which is outside of the folder and not in the copy\n",
               copy->outside[i]);
}

int ks_cli_log_copy(int argc, char **argv)
{
    const char *book_path = NULL;
    bool record_only = false;
    const ks_option options[] = {{"record-only", 0, NULL, KS_OPT_FLAG, &record_only, 0, 0,
                                  "the record alone, without the files of its folder"},
                                 KS_OPTION_BOOK(&book_path)};
    const ks_command command = {
        "log copy",
        "the record and its folder (orders, ware, kilns, plans) in one dated file",
        "[FILE]",
        0,
        1,
        "  kilnstow log copy\n"
        "  kilnstow log copy /media/stick/studio-2026-11-28.book",
        "Also while the record is in use. Without FILE it is kilnstow-DATE.book. log open takes it "
        "out on another\nmachine; it can be read as a record itself, too. Hidden files, links and "
        "other records stay behind.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    ks_folder_copy copy;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    const char *path = cli.parsed.n_args > 0 ? cli.parsed.args[0] : NULL;
    if (ks_folder_copy_write(book_path, path, record_only, &cli.arena, &copy, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json) {
        fputs(ks_answer_written(copy.path, copy.n, &cli.arena), stdout);
        return ks_cli_finish(&cli, KS_OK);
    }
    printf("%s: the record and %d files (%.0f kB) of its folder.\n", copy.path, copy.n,
           copy.kilobytes);
    tell_outside(&copy);
    printf("Keep it on another disk; kilnstow log open %s takes it out there.\n",
           ks_path_name(copy.path));
    return ks_cli_finish(&cli, KS_OK);
}

int ks_cli_log_open(int argc, char **argv)
{
    const ks_command command = {
        "log open",
        "takes out what log copy has written, into a new folder",
        "COPY [FOLDER]",
        1,
        2,
        "  kilnstow log open kilnstow-2026-11-28.book\n"
        "  kilnstow log open kilnstow-2026-11-28.book studio",
        "The folder is named like the copy unless told; the record is kilnstow.book in it. Nothing "
        "is written over.",
        0,
        NULL};
    ks_cli cli;
    int exit_status;
    ks_folder_copy copy;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    const char *folder = cli.parsed.n_args > 1 ? cli.parsed.args[1] : NULL;
    if (ks_folder_copy_open(cli.parsed.args[0], folder, &cli.arena, &copy, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_written(copy.path, copy.n, &cli.arena), stdout);
    else
        printf("%s: the record (kilnstow.book) and %d files. Go on there: cd %s\n", copy.path,
               copy.n, copy.path);
    return ks_cli_finish(&cli, KS_OK);
}

static void tell_health(const char *path, const ks_book_health *health)
{
    if (!*health->says) {
        printf("%s is sound: %d editions of firings, %d payments.\n", path, health->firings,
               health->payments);
        return;
    }
    printf("%s is damaged: %s\n", path, health->says);
    if (health->saved_to)
        printf("Saved to %s: %d editions of firings, %d payments; %d tables or rows could not be "
               "read to the end.\nKeep the damaged file until you have looked at what was saved.\n",
               health->saved_to, health->firings, health->payments, health->lost);
}

int ks_cli_log_sound(int argc, char **argv)
{
    const char *book_path = NULL, *save = NULL;
    const ks_option options[] = {
        {"save", 0, "FILE", KS_OPT_TEXT, &save, 0, 0,
         "where to save what can still be read; the record's name with .saved unless told"},
        KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log sound",
                                "whether the record's file is whole; saves what can be saved",
                                "",
                                0,
                                0,
                                "  kilnstow log sound\n"
                                "  kilnstow log sound --book kilnstow.book --save rescued.book",
                                "Exit status: 0 it is whole, 1 it is damaged.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    ks_book_health health;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    const char *path = ks_book_path(book_path);
    if (!save)
        save = ks_joined(path, ".saved", "", &cli.arena);
    if (ks_book_sound(path, save, &cli.arena, &health, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_health(&health, &cli.arena), stdout);
    else
        tell_health(path, &health);
    return ks_cli_finish(&cli, *health.says ? 1 : 0);
}
