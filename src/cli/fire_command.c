/* fire.c: kilnstow fire. */
#include "cli/cli.h"

#include "app/answer.h"
#include "app/fire_run.h"
#include "studio/display.h"

#include <math.h>
#include <stdio.h>

static void energy_told(const ks_firing_result *fired)
{
    const ks_energy *energy = &fired->energy;
    const struct {
        const char *what;
        double kwh;
    } uses[] = {{"in ware and setters", energy->ware}, {"in shelves and posts", energy->furniture},
                {"in the lining", energy->lining},     {"through the casing", energy->casing},
                {"with the air", energy->vent},        {"water and chemistry", energy->chemistry},
                {"up the flue", energy->flue}};
    for (size_t i = 0; i < sizeof uses / sizeof *uses; i++)
        if (fabs(uses[i].kwh) >= 0.05)
            printf("  %8.1f kWh %5.1f %%  %s\n", uses[i].kwh, 100 * uses[i].kwh / energy->total,
                   uses[i].what);
}

static void schedule_told(const ks_display *display, const ks_firing_result *fired, ks_arena *arena)
{
    const char *degrees = ks_show_unit(display, KS_TEMP);
    /* one column more wherever the heading has a degree sign, which is two bytes */
    printf("\n  %-9s%12s%14s%8s%10s\n", "segment",
           ks_arena_print(arena, "rate, %s", ks_show_unit(display, KS_RATE)),
           ks_arena_print(arena, "to, %s", degrees), "hold", "took, h");
    for (int i = 0; i < fired->n_segments; i++) {
        const ks_segment_fired *segment = &fired->segments[i];
        if (segment->asked.rate_c_h == 0)
            printf("  %-9d%11s", i + 1, "full");
        else
            printf("  %-9d%11.0f", i + 1,
                   ks_show_number(display, KS_RATE, segment->asked.rate_c_h));
        printf("%6.0f to %4.0f%8.2f%10.1f  %s\n", ks_show_number(display, KS_TEMP, segment->from_c),
               ks_show_number(display, KS_TEMP, segment->to_c), segment->asked.hold_h,
               segment->hours, segment->reason);
        if (!segment->followed)
            printf("           cannot follow from %s on: %s\n",
                   ks_show_temp(display, segment->left_at_c, arena), segment->instead);
    }
}

static void levels_told(const ks_display *display, const ks_firing_result *fired, ks_arena *arena)
{
    const char *mass = ks_show_unit(display, KS_MASS), *degrees = ks_show_unit(display, KS_TEMP);
    printf("\n  %-7s%10s%12s%15s%17s  %s\n", "level", ks_arena_print(arena, "ware, %s", mass),
           ks_arena_print(arena, "shelves, %s", mass),
           ks_arena_print(arena, "edge peak, %s", degrees),
           ks_arena_print(arena, "middle peak, %s", degrees), "cone it sees");
    for (int v = 0; v < fired->n_levels; v++) {
        const ks_level_fired *level = &fired->levels[v];
        printf("  %-7d%10.1f%12.1f%14.0f%16.0f  %s\n", level->level + 1,
               ks_show_number(display, KS_MASS, level->ware_kg),
               ks_show_number(display, KS_MASS, level->furniture_kg),
               ks_show_number(display, KS_TEMP, level->peak_edge_c),
               ks_show_number(display, KS_TEMP, level->peak_middle_c), level->cone_text);
    }
}

static void lines_told(const char *head, int n, const char *const *lines)
{
    if (n > 0)
        printf("\n%s\n", head);
    for (int i = 0; i < n; i++)
        printf("  - %s\n", lines[i]);
}

static void pace_told(const ks_pace *pace)
{
    if (pace->piece)
        printf("\n%s sets the pace: %s. It costs the others %.1f h and %.1f kWh.\n", pace->piece,
               pace->why, pace->hours_more, pace->kwh_more);
}

static void load_told(const ks_fire_outcome *outcome, int i, ks_arena *arena)
{
    const ks_display *display = &outcome->plan->order->display;
    const ks_firing_result *fired = &outcome->fired[i];
    const ks_load *load = &outcome->plan->loads[outcome->loads[i]];
    const char *name =
        load->kiln >= 0 ? outcome->plan->order->kilns[load->kiln].name : load->kiln_id;
    printf("%sLoad %d: %s\n%s\n", i > 0 ? "\n" : "", outcome->loads[i] + 1, name, fired->verdict);
    printf("\n%.1f kWh from the meter, 9 of 10 such firings between %.0f and %.0f; %.1f h; highest "
           "draw %.1f kW",
           fired->energy.total, fired->low_kwh, fired->high_kwh, fired->hours, fired->peak_kw);
    if (fired->amps > 0)
        printf(", %.0f A (circuit for %.0f A)", fired->amps, fired->circuit_amps);
    printf(".\n");
    energy_told(fired);
    schedule_told(display, fired, arena);
    levels_told(display, fired, arena);
    pace_told(&fired->pace);
    if (isfinite(fired->open_after_hours))
        printf("\nOpen after %.0f h of cooling, when all ware is below %s.\n",
               ceil(fired->open_after_hours), ks_show_temp(display, fired->open_c, arena));
    lines_told("Taken for granted, since nobody told:", fired->n_assumed, fired->assumed);
    lines_told("Take care:", fired->n_cautions, fired->cautions);
    if (outcome->curves)
        printf("\nCurve written to %s.\n", outcome->curves[i]);
}

int ks_cli_fire(int argc, char **argv)
{
    ks_fire_job job = {.options = ks_fire_default()};
    double worn_percent = 0, full_percent = 100;
    job.options.range = job.options.cooling = job.options.pace = true;
    const ks_option options[] = {
        {"load", 0, "N", KS_OPT_COUNT, &job.load, 1, 10000, "this load only"},
        {"schedule", 's', "WHICH", KS_OPT_TEXT, &job.schedule, 0, 0,
         "a schedule's file, the id of one in the order, or a kind to work out"},
        {"volts", 0, "V", KS_OPT_NUMBER, &job.options.volts, 1, 1000, "at the kiln under load"},
        {"elements-worn", 0, "PERCENT", KS_OPT_NUMBER, &worn_percent, 0, 200,
         "rise of the elements' resistance since new"},
        {"ware", 0, "PERCENT", KS_OPT_NUMBER, &full_percent, 0, 100,
         "how much of the load's ware is really in it, on the same shelves"},
        {"room", 0, "C", KS_OPT_NUMBER, &job.options.room_c, -30, 60,
         "temperature of the room, 20"},
        {"as-built", 0, "FACTOR", KS_OPT_NUMBER, &job.options.as_built, 0.2, 5,
         "on the lining's conductance, from the kiln's own meter; 1"},
        {"materials", 0, "FILE", KS_OPT_TEXT, &job.materials_path, 0, 0,
         "the studio's own materials, beside those built in"},
        {"curve", 'o', "FILE", KS_OPT_TEXT, &job.curve_path, 0, 0,
         "the curve as .csv, .json, .pdf, .svg or .png"},
    };
    const ks_command command = {"fire",
                                "simulates the firing of each load of a plan",
                                "PLAN",
                                1,
                                1,
                                "  kilnstow fire plan.json\n"
                                "  kilnstow fire plan.json --volts 208 --curve curve.pdf\n"
                                "  kilnstow fire plan.json --elements-worn 10 --schedule slow",
                                "Exit status: 0 every firing reaches its end, 1 one does not.",
                                sizeof options / sizeof *options,
                                options};
    ks_cli cli;
    int exit_status;
    if (!ks_cli_start(&cli, &command, argc, argv, &exit_status))
        return exit_status;
    ks_fire_outcome outcome = {0};
    job.plan_path = cli.parsed.args[0];
    job.load--;
    job.options.elements_worn = worn_percent / 100;
    job.options.ware_fraction = full_percent / 100;
    if (ks_fire_run(&job, &cli.arena, &outcome, &cli.err))
        return ks_cli_finish(&cli, ks_cli_failed(&cli));
    if (cli.parsed.json)
        fputs(ks_answer_fire(&outcome, &cli.arena), stdout);
    for (int i = 0; i < outcome.n_loads && !cli.parsed.json; i++)
        load_told(&outcome, i, &cli.arena);
    return ks_cli_finish(&cli, ks_fire_all_reached(&outcome) ? 0 : 1);
}
