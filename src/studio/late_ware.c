#include "studio/late_ware.h"

#include "base/days/civil.h"

enum { MINUTE_S = 60 };

bool ks_is_in_time(const ks_load_times *times, int due_day)
{
    return !times->told || due_day == KS_NO_DAY ||
           times->open_min <= (int64_t)due_day * KS_DAY_MIN + KS_DUE_BY_MIN;
}

int ks_late_ware_find(const ks_plan *plan, ks_arena *arena, ks_late_ware **out)
{
    int n = 0, room = 0;
    *out = NULL;
    for (int l = 0; l < plan->n_loads; l++) {
        const ks_load_times *times = &plan->loads[l].times;
        const int *copies = times->told ? ks_load_copies(plan, l, arena) : NULL;
        for (int i = 0; i < plan->order->n_pieces && copies; i++) {
            if (copies[i] == 0 || ks_is_in_time(times, plan->order->pieces[i].due_day))
                continue;
            *out = KS_GROW(arena, *out, n, &room, ks_late_ware);
            (*out)[n++] = (ks_late_ware){i, l, copies[i]};
        }
    }
    return n;
}

const char *ks_late_ware_words(const ks_plan *plan, const ks_late_ware *late, ks_arena *arena)
{
    const ks_piece *piece = &plan->order->pieces[late->piece];
    const ks_load_times *times = &plan->loads[late->load].times;
    int64_t due_min = (int64_t)piece->due_day * KS_DAY_MIN + KS_DUE_BY_MIN;
    int64_t on_by_min = due_min - (times->open_min - times->on_min);
    return ks_arena_print(arena, "%d x %s, due by %s, opens by %s; in time if switched on by %s",
                          late->copies, piece->id, ks_civil_print(due_min * MINUTE_S, arena),
                          ks_civil_print(times->open_min * MINUTE_S, arena),
                          ks_civil_print(on_by_min * MINUTE_S, arena));
}
