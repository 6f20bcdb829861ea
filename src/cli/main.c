/* main.c: finds the command and hands over; nothing else. */
#include "cli/frame/cli.h"
#include "cli/frame/plain.h"

#include "base/text.h"
#include "base/version.h"

#include <malloc.h>
#include <stdio.h>
#include <string.h>

static const struct {
    const char *name, *does;
    int (*run)(int argc, char **argv);
} commands[] = {
    {"place", "plan the load or loads of an order", ks_cli_place},
    {"check", "prove that a plan keeps every rule", ks_cli_check},
    {"fit", "does a form on its setter go in, and with how much room", ks_cli_fit},
    {"fire", "simulate the firing: hours, kilowatt-hours, cones", ks_cli_fire},
    {"cost", "cost and price pieces, settle between members", ks_cli_cost},
    {"calendar", "when each kiln is free, what is in time", ks_cli_calendar},
    {"draw", "make the sheets of a plan", ks_cli_draw},
    {"log", "the studio's record: what the meter said, what came out, who owes what", ks_cli_log},
    {"list", "kilns, cones and materials built in", ks_cli_list},
    {"serve", "the local page on a folder of orders and plans", ks_cli_serve},
};
enum { COMMANDS = sizeof commands / sizeof *commands };

static void overview(FILE *to)
{
    fprintf(to,
            "kilnstow plans the load of a ceramics kiln, proves the plan and draws its sheets.\n\n"
            "  kilnstow place order.json -o plan.json     what goes in, where, and what waits\n"
            "  kilnstow draw plan.json -o sheets.pdf      the sheets to pin beside the kiln\n\n");
    for (int i = 0; i < COMMANDS; i++)
        fprintf(to, "  %-8s %s\n", commands[i].name, ks_tr(commands[i].does));
    fprintf(to, "\n'kilnstow COMMAND --help' tells more.\n");
}

static int unknown_command(const char *given)
{
    const char *names[COMMANDS];
    for (int i = 0; i < COMMANDS; i++)
        names[i] = commands[i].name;
    const char *nearest = ks_nearest(given, names, COMMANDS);
    if (nearest)
        fprintf(
            stderr,
            "kilnstow: there is no command \"%s\", nearest is %s; 'kilnstow --help' lists them\n",
            given, nearest);
    else
        fprintf(stderr, "kilnstow: there is no command \"%s\"; 'kilnstow --help' lists them\n",
                given);
    return KS_BAD_USAGE;
}

/* A search takes and gives back the same memory thousands of times: handed to the system and asked
 * for again each time, that would take a tenth of its time. */
static void keep_memory(void)
{
    enum { KEPT_BYTES = 256 << 20, PIECE_BYTES = 64 << 20 };
    mallopt(M_TRIM_THRESHOLD, KEPT_BYTES);
    mallopt(M_MMAP_THRESHOLD, PIECE_BYTES);
}

int main(int argc, char **argv)
{
    ks_plain_start();
    keep_memory();
    ks_error err = {0};
    if (ks_speech_start(argc, argv, &err)) {
        fprintf(stderr, "kilnstow: %s\n", err.text);
        return KS_BAD_USAGE;
    }
    if (argc < 2) {
        overview(stderr);
        return KS_BAD_USAGE;
    }
    if (strcmp(argv[1], "--help") == 0 || strcmp(argv[1], "-h") == 0 ||
        strcmp(argv[1], "help") == 0) {
        overview(stdout);
        return ks_cli_flush(KS_OK);
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("kilnstow %s\n", ks_version);
        return ks_cli_flush(KS_OK);
    }
    for (int i = 0; i < COMMANDS; i++)
        if (strcmp(argv[1], commands[i].name) == 0)
            return commands[i].run(argc - 1, argv + 1);
    return unknown_command(argv[1]);
}
