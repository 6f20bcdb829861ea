#include "check/check_judge.h"

#include "studio/level_name.h"
#include "studio/wish.h"

#include <string.h>

/* That ware stands on levels on which it is wanted, beside what it is wanted beside, and on none
 * that take no ware. */

typedef struct {
    ks_judge *j;
    const int *tiers; /* of each level */
    bool *has_ware;   /* of each tier, from 1 */
} levels;

static levels levels_of(ks_judge *j, ks_arena *arena)
{
    levels of = {j, ks_level_tiers(j->load, arena), KS_TAKE(arena, j->load->n_levels + 1, bool)};
    for (int i = 0; i < j->n_things; i++)
        of.has_ware[of.tiers[j->things[i].level]] |= j->things[i].piece != NULL;
    return of;
}

static bool is_under_another(const ks_load *load, int l)
{
    for (int m = 0; m < load->n_levels; m++)
        if (load->levels[m].z_mm > load->levels[l].z_mm &&
            ks_bays_overlap(load, ks_text(load->levels[m].bay), ks_text(load->levels[l].bay)))
            return true;
    return false;
}

static ks_level_rank rank_of(const levels *of, int level)
{
    ks_level_rank rank = {.tier = of->tiers[level],
                          .under_another = is_under_another(of->j->load, level)};
    for (int tier = 1; tier <= of->j->load->n_levels; tier++) {
        rank.of += of->has_ware[tier];
        rank.nth += tier <= rank.tier && of->has_ware[tier];
    }
    return rank;
}

static bool has_on_level(const ks_judge *j, int level, const char *id)
{
    for (int i = 0; i < j->n_things; i++)
        if (j->things[i].level == level && j->things[i].piece &&
            strcmp(j->things[i].piece->id, id) == 0)
            return true;
    return false;
}

static void judge_wish(const levels *of, const ks_thing *thing)
{
    ks_level_wish wish = ks_wish_of(of->j->order, thing->piece);
    if (!ks_has_wish(&wish))
        return;
    bool kept = ks_wish_takes(&wish, rank_of(of, thing->level)) &&
                (!wish.beside || has_on_level(of->j, thing->level, wish.beside));
    ks_note(of->j, RULE_KEPT, kept ? 0 : -1, ks_spot_thing(of->j, thing));
}

/* Between heights what counts is by how much it reaches into them. */
static void judge_no_ware(const levels *of, const ks_thing *thing, const ks_no_ware *no)
{
    double slack = fmax(no->from_mm - thing->high, thing->low - no->to_mm);
    if (no->level.word != KS_ANY_LEVEL)
        slack = ks_wish_takes(&no->level, rank_of(of, thing->level)) ? -1 : 0;
    ks_note(of->j, RULE_KEPT, slack, ks_spot_thing(of->j, thing));
}

void ks_check_levels(ks_judge *j)
{
    ks_arena scratch = {0};
    levels of = levels_of(j, &scratch);
    for (int i = 0; i < j->n_things; i++) {
        const ks_thing *thing = &j->things[i];
        if (!thing->piece)
            continue;
        judge_wish(&of, thing);
        for (int n = 0; n < j->order->rules.n_no_ware; n++)
            judge_no_ware(&of, thing, &j->order->rules.no_ware[n]);
    }
    ks_arena_finish(&scratch);
}
