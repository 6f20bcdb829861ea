#include "draw/facts/facts.h"

#include "studio/level_name.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static bool is_beside(const ks_facts *facts, const ks_tier_facts *tier, const ks_level_facts *level)
{
    const double same_mm = 0.5;
    for (int i = 0; i < tier->n_levels; i++)
        if (fabs(tier->levels[i]->level->z_mm - level->level->z_mm) > same_mm ||
            ks_bays_overlap(facts->load, tier->levels[i]->level->bay, level->level->bay))
            return false;
    return true;
}

/* "Levels 2 left and 2 right". */
static void name_tier(ks_tier_facts *tier, ks_arena *arena)
{
    const ks_level_facts *first = tier->levels[0];
    tier->name = first->name;
    tier->file_name =
        ks_arena_print(arena, "level-%s", ks_level_file_name(first->bare_name, arena));
    if (tier->n_levels == 1)
        return;
    const char *names = first->bare_name;
    bool same = true;
    for (int i = 1; i < tier->n_levels; i++) {
        const char *between = i == tier->n_levels - 1 ? " and " : ", ";
        names = ks_say_join(arena, between, names, tier->levels[i]->bare_name);
        same &= atoi(tier->levels[i]->bare_name) == atoi(first->bare_name);
    }
    tier->name = ks_arena_print(arena, "Levels %s", names);
    tier->file_name = same ? ks_arena_print(arena, "level-%d", atoi(first->bare_name))
                           : ks_arena_print(arena, "levels-%s", ks_level_file_name(names, arena));
}

void ks_tiers_find(ks_facts *facts, ks_arena *arena)
{
    facts->tiers = KS_TAKE(arena, facts->n_levels, ks_tier_facts);
    for (int i = 0; i < facts->n_levels; i++) {
        const ks_level_facts *level = &facts->levels[i];
        int at = 0;
        while (at < facts->n_tiers && !is_beside(facts, &facts->tiers[at], level))
            at++;
        ks_tier_facts *tier = &facts->tiers[at];
        if (at == facts->n_tiers) {
            facts->n_tiers++;
            tier->levels = KS_TAKE(arena, facts->n_levels, const ks_level_facts *);
        }
        tier->levels[tier->n_levels++] = level;
    }
    for (int i = 0; i < facts->n_tiers; i++)
        name_tier(&facts->tiers[i], arena);
}
