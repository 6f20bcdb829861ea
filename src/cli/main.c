/* main.c: finds the command and hands over; nothing else. */
#include "cli/frame/cli.h"
#include "cli/frame/dispatch.h"
#include "cli/frame/plain.h"

#include "app/machine/keep_to.h"
#include "base/language.h"
#include "base/version.h"

#include <malloc.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

static const ks_cli_entry commands[] = {
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
static const ks_cli_table table = {
    "kilnstow",
    KS_WORDS("kilnstow plans the load of a ceramics kiln, proves the plan and draws its sheets.\n\n"
             "  kilnstow place order.json -o plan.json     what goes in, where, and what waits\n"
             "  kilnstow draw plan.json -o sheets.pdf      the sheets to pin beside the kiln\n\n"),
    commands, sizeof commands / sizeof *commands};

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
    (void)signal(SIGXFSZ, SIG_IGN); /* a limit on a file's size is told where it is written to */
    ks_plain_start();
    keep_memory();
    ks_keep_to_told();
    ks_error err = {0};
    if (ks_speech_start(argc, argv, &err)) {
        fprintf(stderr, "kilnstow: %s\n", err.text);
        return KS_BAD_USAGE;
    }
    if (argc > 1 && strcmp(argv[1], "--version") == 0) {
        printf("kilnstow %s\n", ks_version);
        return ks_cli_flush(KS_OK);
    }
    return ks_cli_dispatch(&table, argc, argv);
}
