/* kilnstow log losses. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "base/language.h"

#include <math.h>
#include <stdio.h>

static const char *name_of(int by, const ks_loss_part *part)
{
    if (*part->value)
        return by == KS_LOST_BY_THIRD ? ks_tr(part->value) : part->value;
    return by == KS_LOST_BY_GLAZE ? ks_tr("without glaze") : ks_tr("the studio");
}

/* Beyond two sigma of the studio's rate. */
static bool is_sure(const ks_loss_part *part)
{
    return fabs(part->factor - 1) > 2 * part->sigma;
}

static void tell_parts(const ks_losses *losses, int by)
{
    static const char *const titles[KS_LOST_BY] = {KS_WORDS("by kind"), KS_WORDS("by glaze"),
                                                   KS_WORDS("by owner"),
                                                   KS_WORDS("by place in the chamber")};
    printf("\n%s\n", ks_tr(titles[by]));
    for (int i = 0; i < losses->n[by]; i++) {
        const ks_loss_part *part = &losses->parts[by][i];
        printf("  %-24s %6.1f of %-6d %6.2f times the usual (+- %.2f, 1 sigma)%s\n",
               name_of(by, part), part->lost, part->copies, part->factor, part->sigma,
               !is_sure(part)     ? ""
               : part->factor > 1 ? ks_tr("  more")
                                  : ks_tr("  less"));
    }
}

static void tell_losses(const ks_losses *losses)
{
    if (losses->copies == 0) {
        printf("No firing of the record tells yet what went in.\n");
        return;
    }
    printf("%.0f of %d pieces were lost in %d firings: %.1f %%.\n", losses->lost, losses->copies,
           losses->firings, 100 * losses->rate);
    for (int by = 0; by < KS_LOST_BY; by++)
        tell_parts(losses, by);
    printf(
        "\nWhat one of these explains is not counted again for another. \"kilnstow cost --book\" "
        "prices by it.\n");
}

int ks_cli_log_losses(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log losses",
                                "how much ware is lost, by kind, glaze, owner and place",
                                "",
                                0,
                                0,
                                "  kilnstow log losses",
                                "Losses are told with log add --lost; what went in is known from "
                                "the plans.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    ks_book *book = NULL;
    ks_losses losses;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, &cli.err);
    if (!status)
        status = ks_book_losses(book, &cli.arena, &losses, &cli.err);
    ks_book_close(book);
    if (status)
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_losses(&losses, &cli.arena), stdout);
    else
        tell_losses(&losses);
    return ks_cli_finish(&cli, KS_OK);
}
