/* kilnstow log tune and log map. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"

#include <math.h>
#include <stdio.h>

static void tell_learnt(const ks_learnt *learnt)
{
    const ks_tuning *t = &learnt->tuning;
    printf("%s, by %d metered firings:\n", learnt->kiln, learnt->n);
    if (t->as_built_spread > 0)
        printf("  its lining conducts %.2f times what its materials would (+- %.2f, 1 sigma)\n",
               t->as_built, t->as_built * t->as_built_spread);
    if (t->store_tuned)
        printf("  and holds %.2f times the heat (+- %.2f)\n", t->store_factor,
               t->store_factor * t->store_spread);
    printf("  error of the model: %.1f %% before, %.1f %% with it (root mean square)\n",
           100 * t->before, 100 * t->after);
    if (!isnan(t->held_out))
        printf("  each firing foretold by the others alone: %.1f %%\n", 100 * t->held_out);
    for (int i = 0; i < learnt->n; i++)
        printf("    entry %-4d meter %+.1f %% against the tuned model\n", learnt->entries[i],
               100 * t->off[i]);
    for (int i = 0; i < learnt->n_warnings; i++)
        printf("  Note: %s\n", ks_tr(learnt->warnings[i]));
    printf("kilnstow fire and cost use it with --book.\n");
}

static void tell_map(const ks_kiln_map *map, const char *kiln)
{
    if (map->n == 0) {
        printf("No firing of %s has cones seen at two places or more: log add --cone tells them.\n",
               kiln);
        return;
    }
    printf("%s, by the cones of %d firings; against the mean of each firing:\n", kiln,
           map->firings);
    for (int i = map->n - 1; i >= 0; i--) {
        const ks_map_place *place = &map->places[i];
        bool sure = fabs(place->warmer_k) > 2 * place->sigma_k;
        printf("  %-8s %-8s %+5.0f K (+- %.0f K, 1 sigma; cones seen: %d)%s\n",
               ks_tr(place->height), ks_tr(place->side), place->warmer_k, place->sigma_k, place->n,
               !sure                 ? ks_tr("  not yet sure")
               : place->warmer_k > 0 ? ks_tr("  hot")
                                     : ks_tr("  cold"));
    }
}

static int learn(ks_cli *cli, const char *book_path, bool map)
{
    ks_book *book = NULL;
    ks_learnt learnt;
    ks_kiln_map places;
    const char *kiln = cli->parsed.args[0];
    ks_status status = ks_book_open(ks_book_path(book_path), KS_BOOK_LOOK, &book, &cli->err);
    if (!status)
        status = map ? ks_book_map(book, kiln, &cli->arena, &places, &cli->err)
                     : ks_book_learn(book, kiln, &cli->arena, &learnt, &cli->err);
    if (!status && !map && learnt.n == 0)
        status = ks_book_nothing_learnt(book, kiln, &cli->arena, &cli->err);
    ks_book_close(book);
    if (status)
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(map ? ks_answer_map(&places, kiln, &cli->arena)
                  : ks_answer_learnt(&learnt, &cli->arena),
              stdout);
    else if (map)
        tell_map(&places, kiln);
    else
        tell_learnt(&learnt);
    return KS_OK;
}

int ks_cli_log_tune(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log tune",
                                "what a kiln's own meter says about it",
                                "KILN",
                                1,
                                1,
                                "  kilnstow log tune round-690",
                                "By its last twelve metered firings. Nothing is written: fire and "
                                "cost work it out anew with --book.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, learn(&cli, book_path, false));
}

int ks_cli_log_map(int argc, char **argv)
{
    const char *book_path = NULL;
    const ks_option options[] = {KS_OPTION_BOOK(&book_path)};
    const ks_command command = {"log map", "hot and cold places of a kiln, by the cones seen",
                                "KILN",    1,
                                1,         "  kilnstow log map round-690",
                                NULL,      sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    return ks_cli_finish(&cli, learn(&cli, book_path, true));
}
