#include "cli/frame/dispatch.h"

#include "base/language.h"
#include "base/text.h"
#include "cli/frame/cli.h"

#include <stdio.h>
#include <string.h>

static void overview(const ks_cli_table *table, FILE *to)
{
    fprintf(to, "%s", ks_tr(table->head));
    for (int i = 0; i < table->n; i++)
        fprintf(to, "  %-8s %s\n", table->entries[i].name, ks_tr(table->entries[i].does));
    fprintf(to, "\n'%s COMMAND --help' tells more.\n", table->called);
}

static int unknown_command(const ks_cli_table *table, const char *given)
{
    ks_arena arena = {0};
    const char **names = KS_TAKE(&arena, table->n, const char *);
    for (int i = 0; i < table->n; i++)
        names[i] = table->entries[i].name;
    const char *nearest = ks_nearest(given, names, table->n);
    ks_arena_finish(&arena);
    if (nearest)
        fprintf(stderr, "%s: there is no command \"%s\", nearest is %s; '%s --help' lists them\n",
                table->called, given, nearest, table->called);
    else
        fprintf(stderr, "%s: there is no command \"%s\"; '%s --help' lists them\n", table->called,
                given, table->called);
    return KS_BAD_USAGE;
}

static bool asks_for_help(const char *word)
{
    return strcmp(word, "--help") == 0 || strcmp(word, "-h") == 0 || strcmp(word, "help") == 0;
}

int ks_cli_dispatch(const ks_cli_table *table, int argc, char **argv)
{
    if (argc < 2) {
        overview(table, stderr);
        return KS_BAD_USAGE;
    }
    if (asks_for_help(argv[1])) {
        overview(table, stdout);
        return ks_cli_flush(KS_OK);
    }
    for (int i = 0; i < table->n; i++)
        if (strcmp(argv[1], table->entries[i].name) == 0)
            return table->entries[i].run(argc - 1, argv + 1);
    return unknown_command(table, argv[1]);
}
