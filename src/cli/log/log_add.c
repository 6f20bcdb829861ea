/* kilnstow log add, and log mend, which takes the same options. */
#include "cli/log/log_command.h"

#include "app/answers/answer_log.h"
#include "cli/log/log_told.h"

#include <math.h>
#include <stdio.h>

/* Where the options of both are read to. */
typedef struct {
    ks_log_job job;
    ks_text_list cones, lost, again, not_in, also_in, photos;
} given;

#define ENTRY_OPTIONS(g)                                                                           \
    {"kwh", 0, "N", KS_OPT_NUMBER, &(g).job.told.kwh, 0.001, 1e6, "what the firing drew, kWh"},    \
        {"meter",                                                                                  \
         0,                                                                                        \
         "FROM TO",                                                                                \
         KS_OPT_PAIR,                                                                              \
         (g).job.told.meter,                                                                       \
         0,                                                                                        \
         0,                                                                                        \
         "in its place: the meter before and after"},                                              \
        {"unit",                                                                                   \
         0,                                                                                        \
         "U",                                                                                      \
         KS_OPT_TEXT,                                                                              \
         &(g).job.told.unit,                                                                       \
         0,                                                                                        \
         0,                                                                                        \
         "of the meter: kWh (usual), m3 of natural gas, kg of propane"},                           \
        {"start",                                                                                  \
         0,                                                                                        \
         "T",                                                                                      \
         KS_OPT_TEXT,                                                                              \
         &(g).job.told.start,                                                                      \
         0,                                                                                        \
         0,                                                                                        \
         "when it was switched on: \"2026-11-28 18:00\"; as planned unless told"},                 \
        {"end", 0, "T", KS_OPT_TEXT, &(g).job.told.end, 0, 0, "when it was over"},                 \
        {"cone",                                                                                   \
         0,                                                                                        \
         "LEVEL=CONE",                                                                             \
         KS_OPT_LIST,                                                                              \
         &(g).cones,                                                                               \
         0,                                                                                        \
         0,                                                                                        \
         "a cone seen down: 3=6, 3:back=5.5+0.4 (front, back, left, right, middle)"},              \
        {"lost",    0,                                                                             \
         "TEXT",    KS_OPT_LIST,                                                                   \
         &(g).lost, 0,                                                                             \
         0,         "a piece that was lost, and why: \"mug x 2 on 3: cracked\" (of level 3)"},     \
        {"refire",   0, "TEXT", KS_OPT_LIST,                                                       \
         &(g).again, 0, 0,      "a piece that goes in again, and why: \"mug x 1: pinholes\""},     \
        {"loaded",                                                                                 \
         0,                                                                                        \
         "TEXT",                                                                                   \
         KS_OPT_TEXT,                                                                              \
         &(g).job.told.loaded,                                                                     \
         0,                                                                                        \
         0,                                                                                        \
         "what the page for the telephone tells: \"1545269b 1: not 1.3 2left.5-8\""},              \
        {"not-in",    0, "TEXT", KS_OPT_LIST,                                                      \
         &(g).not_in, 0, 0,      "planned, but not put in: \"mug x 2 on 3\""},                     \
        {"also-in",    0, "TEXT", KS_OPT_LIST,                                                     \
         &(g).also_in, 0, 0,      "not planned for this load, but put in: \"bowl x 1 on 3\""},     \
        {"curve",                                                                                  \
         0,                                                                                        \
         "FILE",                                                                                   \
         KS_OPT_TEXT,                                                                              \
         &(g).job.told.curve_path,                                                                 \
         0,                                                                                        \
         0,                                                                                        \
         "a recorder's table, kept with the entry"},                                               \
        {"minutes",                                                                                \
         0,                                                                                        \
         "N",                                                                                      \
         KS_OPT_NUMBER,                                                                            \
         &(g).job.told.minutes,                                                                    \
         0,                                                                                        \
         1e5,                                                                                      \
         "worked on it: loading, minding, unloading"},                                             \
        {"photo", 0, "FILE", KS_OPT_LIST, &(g).photos, 0, 0, "the name of a photograph's file"},   \
        {"note", 0, "TEXT", KS_OPT_TEXT, &(g).job.told.note, 0, 0, "anything else"},               \
        KS_OPTION_BOOK(&(g).job.book_path)

static int write_entry(ks_cli *cli, given *g)
{
    ks_log_outcome outcome;
    g->job.told.cones = (ks_log_texts){g->cones.n, g->cones.texts};
    g->job.told.lost = (ks_log_texts){g->lost.n, g->lost.texts};
    g->job.told.again = (ks_log_texts){g->again.n, g->again.texts};
    g->job.told.not_in = (ks_log_texts){g->not_in.n, g->not_in.texts};
    g->job.told.also_in = (ks_log_texts){g->also_in.n, g->also_in.texts};
    g->job.told.photos = (ks_log_texts){g->photos.n, g->photos.texts};
    if (ks_log_write(&g->job, &cli->arena, &outcome, &cli->err))
        return ks_cli_failed(cli);
    if (cli->parsed.json) {
        fputs(ks_answer_log(1, &outcome.entry, &outcome.notes, &cli->arena), stdout);
        return KS_OK;
    }
    ks_cli_log_entry(&outcome.entry, &cli->arena);
    for (int i = 0; i < outcome.notes.n; i++)
        printf("Note: %s\n", ks_tr(outcome.notes.texts[i]));
    for (int i = 0; i < outcome.lowered.n_notes; i++)
        printf("Note: %s\n", outcome.lowered.notes[i]);
    printf("Written to %s.\n", outcome.book_path);
    for (int i = 0; i < outcome.lowered.n; i++)
        printf("%s is lowered; what stood there is in %s.bak.\n", outcome.lowered.tables[i].path,
               outcome.lowered.tables[i].path);
    return KS_OK;
}

int ks_cli_log_add(int argc, char **argv)
{
    given g = {.job = {.told = {.kwh = NAN, .minutes = NAN}}};
    const ks_option options[] = {
        {"load", 0, "N", KS_OPT_COUNT, &g.job.load, 1, 10000, "which load of the plan it was"},
        ENTRY_OPTIONS(g),
        {"again", 0, NULL, KS_OPT_FLAG, &g.job.again, 0, 0,
         "even if the record has this load already: it was fired twice"},
        {"take-out", 0, "ORDER", KS_OPT_TEXT, &g.job.take_out, 0, 0,
         "lowers the tables of ware of this order by what came out; they are kept as .bak"},
    };
    const ks_command command = {
        "log add",
        "adds a firing that took place to the record",
        "PLAN",
        1,
        1,
        "  kilnstow log add plan.json --kwh 61.3\n"
        "  kilnstow log add plan.json --load 2 --meter 48210.4 48271.7 --cone 1=6 --cone 5=5.5\n"
        "  kilnstow log add plan.json --kwh 61.3 --lost \"mug x 2: cracked\" --note \"lid open "
        "late\"\n"
        "  kilnstow log add plan.json --kwh 44 --take-out order.json --refire \"mug x 1: "
        "pinholes\"",
        "The record keeps the whole plan. Its first entry makes the file.\nWith --take-out bare "
        "ware of a "
        "bisque firing stays in its table as bisque, as much smaller as its\nclay has shrunk; lost "
        "ware is gone, and what is to be fired again stays as a kind of its own.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    g.job.plan_path = cli.parsed.args[0];
    g.job.load--;
    return ks_cli_finish(&cli, write_entry(&cli, &g));
}

int ks_cli_log_mend(int argc, char **argv)
{
    given g = {.job = {.told = {.kwh = NAN, .minutes = NAN}}};
    const ks_option options[] = {
        ENTRY_OPTIONS(g),
        {"strike", 0, "WHY", KS_OPT_TEXT, &g.job.told.strike, 0, 0,
         "the entry counts no more; \"\" lets it count again"},
    };
    const ks_command command = {
        "log mend",
        "tells an entry anew; what stood before is kept",
        "N",
        1,
        1,
        "  kilnstow log mend 3 --kwh 63.1\n"
        "  kilnstow log mend 3 --cone 1=6 --cone 3:back=5.5+0.4\n"
        "  kilnstow log mend 4 --strike \"was entered twice\"",
        "What is not told stays as it was. Cones, losses and photographs that are told replace "
        "those that stood\nthere. The bill is made anew.",
        sizeof options / sizeof *options,
        options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    if (ks_cli_entry_number(&cli, &g.job.n))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    return ks_cli_finish(&cli, write_entry(&cli, &g));
}
