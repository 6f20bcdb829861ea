#include "cli/calendar_told.h"

#include "app/calendar_words.h"
#include "base/days/civil.h"
#include "base/language.h"
#include "clock/zone_words.h"

#include <stdio.h>
#include <string.h>

static void tell_years(const ks_calendar_outcome *outcome, ks_arena *arena)
{
    int first = ks_civil_of(ks_local_of_utc(&outcome->rule, outcome->loads[0].at.loading_s)).year;
    int last = first;
    for (int i = 0; i < outcome->n_loads; i++)
        last = ks_civil_of(ks_local_of_utc(&outcome->rule, outcome->loads[i].at.empty_s)).year;
    printf("Kilns in %d", first);
    if (last > first)
        printf(" and %d", last);
    if (*outcome->zone)
        printf(", by a clock of %s", ks_zone_words(&outcome->rule, arena));
    else
        printf(", by the studio's own clock: the order tells no time zone, so the clock changes of "
               "spring and autumn are not counted");
    printf("\n");
}

/* Under what is simulated. */
static void tell_planned(const ks_calendar_outcome *outcome, const ks_calendar_load *load,
                         ks_arena *arena)
{
    const ks_occupation *at = &load->planned;
    if (!load->is_planned)
        return;
    printf("  %-16s  %-15s  %-15s  %-15s  %-15s  %-15s\n", ks_tr("planned"), "",
           ks_calendar_time_words(outcome, at->on_s, arena),
           ks_calendar_time_words(outcome, at->cone_down_s, arena),
           ks_calendar_time_words(outcome, at->ended_s, arena),
           ks_calendar_time_words(outcome, at->open_s, arena));
}

static bool any_planned(const ks_calendar_outcome *outcome)
{
    for (int i = 0; i < outcome->n_loads; i++)
        if (outcome->loads[i].is_planned)
            return true;
    return false;
}

static void tell_loads(const ks_calendar_outcome *outcome, ks_arena *arena)
{
    printf("  %-16s  %-15s  %-15s  %-15s  %-15s  %-15s  %-15s  %s\n", ks_tr("kiln"),
           ks_tr("loading"), ks_tr("on"), ks_tr("cone down"), ks_tr("over"), ks_tr("safe to open"),
           ks_tr("unloading"), ks_tr("load"));
    for (int i = 0; i < outcome->n_loads; i++) {
        const ks_calendar_load *load = &outcome->loads[i];
        const int64_t times[] = {load->at.loading_s, load->at.on_s,   load->at.cone_down_s,
                                 load->at.ended_s,   load->at.open_s, load->at.unloading_s};
        printf("  %-16.16s", load->of->plan->loads[load->load].kiln_id);
        for (size_t t = 0; t < sizeof times / sizeof *times; t++)
            printf("  %-15s", ks_calendar_time_words(outcome, times[t], arena));
        printf("  %s%s%s\n", ks_calendar_load_words(outcome, i, arena),
               load->proposed ? ks_tr(", proposed") : "", load->clashes ? ks_tr(", clashes") : "");
        tell_planned(outcome, load, arena);
    }
    if (any_planned(outcome))
        printf("Planned times are for a full kiln, in whole hours: what place counted with.\n");
}

void ks_cli_calendar_told(const ks_calendar_outcome *outcome, ks_arena *arena)
{
    if (outcome->n_loads == 0) {
        printf("No load to put on a calendar.\n");
        return;
    }
    tell_years(outcome, arena);
    tell_loads(outcome, arena);
    if (outcome->n_clashes + outcome->n_dues > 0)
        printf("\n");
    for (int i = 0; i < outcome->n_clashes; i++)
        printf("%s\n", ks_calendar_clash_words(outcome, i, arena));
    for (int late = 1; late >= 0; late--)
        for (int i = 0; i < outcome->n_dues; i++)
            if (outcome->dues[i].late == (late == 1))
                printf("%s\n", ks_calendar_due_words(outcome, i, arena));
    if (outcome->n_notes > 0)
        printf("\nAssumed:\n");
    for (int i = 0; i < outcome->n_notes; i++)
        printf("  %s\n", outcome->notes[i]);
    for (int i = 0; i < outcome->n_paths; i++)
        printf("%s%s\n", i == 0 ? "\n" : "", outcome->paths[i]);
}
