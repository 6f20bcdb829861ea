/* kilnstow list room: what would still go into the loads of a plan. */
#include "cli/frame/cli.h"

#include "app/answers/answer_room.h"
#include "studio/display.h"
#include "studio/level_name.h"

#include <stdio.h>

enum { KINDS_TOLD = 6 };

/* "6 x low bowl, 4 x espresso (2 wait)": those that wait, then those of which most go in. */
static const char *kind_words(const ks_plan *plan, int n, const ks_kind_room *kinds,
                              ks_arena *arena)
{
    const char *words = "";
    int told = 0;
    for (int waiting = 1; waiting >= 0; waiting--)
        for (int i = 0; i < n; i++) {
            int waits = ks_copies_waiting(plan, kinds[i].piece);
            if ((waits > 0) != waiting || told++ >= KINDS_TOLD)
                continue;
            words = ks_arena_print(arena, ks_tr("%s%s%d x %s%s"), words, *words ? ", " : "",
                                   kinds[i].copies, plan->order->pieces[kinds[i].piece].id,
                                   waits > 0 ? ks_arena_print(arena, " (%d wait)", waits) : "");
        }
    return told > KINDS_TOLD
               ? ks_arena_print(arena, "%s, and %d kinds more", words, told - KINDS_TOLD)
               : words;
}

static const char *circle_words(const ks_plan *plan, const ks_level_room *room, ks_arena *arena)
{
    const ks_display *display = &plan->order->display;
    if (!(room->width_mm > 0))
        return ks_tr("nothing so tall");
    return ks_show_spare(display, room->width_mm, arena);
}

static void tell_load(const ks_plan *plan, int load, const ks_load_room *room, ks_arena *arena)
{
    const ks_display *display = &plan->order->display;
    const char **names = ks_level_names(&plan->loads[load], arena);
    printf("%s\n", ks_arena_print(arena, "Load %d: %s", load + 1, plan->loads[load].kiln_id));
    if (room->why_not) {
        printf("  %s\n", ks_arena_print(arena, "not told: %s", ks_tr(room->why_not)));
        return;
    }
    printf("  %-18s%16s%18s   %s\n", ks_tr("level"), ks_tr("tallest"), ks_tr("widest round"),
           ks_tr("room for, of one kind alone"));
    for (int l = 0; l < room->n_levels; l++) {
        const ks_level_room *level = &room->levels[l];
        const char *kinds = kind_words(plan, level->n_kinds, level->kinds, arena);
        printf("  %-18s%16s%18s   %s\n", names[l], ks_show_spare(display, level->height_mm, arena),
               circle_words(plan, level, arena), *kinds ? kinds : "-");
    }
    const char *kinds = kind_words(plan, room->n_kinds, room->kinds, arena);
    printf("  %s\n", *kinds ? ks_arena_print(arena, "In all, of one kind alone: %s.", kinds)
                            : ks_tr("No piece of the order's kinds goes in any more."));
}

int ks_cli_list_room(ks_cli *cli, const char *plan_path)
{
    ks_plan *plan;
    ks_load_room *rooms;
    if (ks_plan_read(plan_path, &cli->arena, &plan, &cli->err) ||
        ks_place_room(plan, &cli->arena, &rooms, &cli->err))
        return ks_cli_failed(cli);
    if (cli->parsed.json)
        fputs(ks_answer_room(plan, rooms, &cli->arena), stdout);
    for (int l = 0; !cli->parsed.json && l < plan->n_loads; l++)
        tell_load(plan, l, &rooms[l], &cli->arena);
    return KS_OK;
}
