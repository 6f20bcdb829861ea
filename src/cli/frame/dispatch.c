#include "cli/frame/dispatch.h"

#include "app/answers/answer_frame.h"
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

/* For programs: the same. */
static void overview_json(const ks_cli_table *table)
{
    ks_arena arena = {0};
    ks_json_out out = {.text.arena = &arena};
    ks_answer_open(&out, table->called, "done");
    ks_answer_warnings(&out, NULL);
    ks_out_object(&out, "result");
    ks_out_text(&out, "head", table->head);
    ks_out_array(&out, "commands");
    for (int i = 0; i < table->n; i++) {
        ks_out_object_flat(&out, NULL);
        ks_out_text(&out, "name", table->entries[i].name);
        ks_out_text(&out, "does", table->entries[i].does);
        ks_out_end(&out);
    }
    ks_out_end(&out);
    fputs(ks_answer_close(&out), stdout);
    ks_arena_finish(&arena);
}

static bool is_one_of(const char *word, const char *const *words)
{
    while (*words && strcmp(word, *words) != 0)
        words++;
    return *words != NULL;
}

/* Whether it is help that is asked for, and by a program. */
static bool asks_for_help(int argc, char **argv, bool *json)
{
    static const char *const help[] = {"--help", "-h", "help", NULL};
    static const char *const as_json[] = {"--json", NULL};
    *json = is_one_of(argv[1], as_json) || (argc > 2 && is_one_of(argv[2], as_json));
    return is_one_of(argv[1], help) ||
           (is_one_of(argv[1], as_json) && argc > 2 && is_one_of(argv[2], help));
}

int ks_cli_dispatch(const ks_cli_table *table, int argc, char **argv)
{
    if (argc < 2) {
        overview(table, stderr);
        return KS_BAD_USAGE;
    }
    bool json;
    if (asks_for_help(argc, argv, &json)) {
        if (json)
            overview_json(table);
        else
            overview(table, stdout);
        return ks_cli_flush(KS_OK);
    }
    for (int i = 0; i < table->n; i++)
        if (strcmp(argv[1], table->entries[i].name) == 0)
            return table->entries[i].run(argc - 1, argv + 1);
    return unknown_command(table, argv[1]);
}
