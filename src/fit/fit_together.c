/* Whether two pieces can share a level, by the shelf packer. */
#include "kilnstow/fit.h"

#include "fit/fit_way.h"

static const int64_t work = 200;

static bool both_stand(const ks_fit_case *asked, const ks_stack_level *level, ks_arena *arena)
{
    ks_shelf_space space = ks_level_space(&asked->job, &asked->kind, level, arena);
    ks_shelf_item *items = KS_TAKE(arena, 2, ks_shelf_item);
    for (int i = 0; i < 2; i++) {
        items[i] = asked->job.items[i];
        items[i].copies = items[i].must = 1;
        items[i].worth = 1;
        if (asked->job.height_mm[i] > space.height_mm)
            return false;
    }
    ks_shelf_search *search = ks_shelf_search_create(&space, 2, items, 1);
    ks_shelf_search_run(search, work, NULL);
    ks_shelf_layout best = ks_shelf_search_best(search, arena);
    ks_shelf_search_destroy(search);
    return best.n_spots == 2;
}

bool ks_fit_together(const ks_order *order, int a, int b, const ks_kiln *kiln, ks_fit_known *known,
                     ks_arena *arena)
{
    ks_fit_case asked;
    ks_piece *both = KS_TAKE(arena, 2, ks_piece);
    both[0] = order->pieces[a];
    both[1] = order->pieces[b];
    if (ks_fit_case_of(order, both, 2, kiln, known, arena, &asked, NULL) != KS_OK)
        return false;
    ks_fit_levels levels = ks_fit_bottom_levels(&asked, arena);
    for (int l = 0; l < levels.n; l++)
        if (both_stand(&asked, &levels.levels[l], arena))
            return true;
    return false;
}
