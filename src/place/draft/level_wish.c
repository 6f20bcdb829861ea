#include "place/draft/level_wish.h"

#include "studio/lifting.h"
#include "studio/wish.h"

#include <math.h>
#include <string.h>

/* Bays less than this within one another only touch. */
static const double touch_mm = 5;

static bool share_ground(const ks_kiln *kiln, int a, int b)
{
    return a == b ||
           ks_outline_distance(&kiln->bays[a].outline, &kiln->bays[b].outline) < -touch_mm;
}

static const ks_kiln *kiln_of(const ks_job *job, const ks_draft_load *load)
{
    return job->kinds[load->kind].furniture->kiln;
}

/* Levels are listed from below, so what is under one has its tier already. */
static int *tiers_of(const ks_job *job, const ks_draft_load *load, ks_arena *arena)
{
    const ks_kiln *kiln = kiln_of(job, load);
    int *tiers = KS_TAKE(arena, load->n_levels, int);
    for (int l = 0; l < load->n_levels; l++) {
        tiers[l] = 1;
        for (int m = 0; m < load->n_levels; m++)
            if (load->levels[m].at.z < load->levels[l].at.z && tiers[m] >= tiers[l] &&
                share_ground(kiln, load->levels[m].at.bay, load->levels[l].at.bay))
                tiers[l] = tiers[m] + 1;
    }
    return tiers;
}

static bool is_under_another(const ks_job *job, const ks_draft_load *load, int level)
{
    for (int m = 0; m < load->n_levels; m++)
        if (load->levels[m].at.z > load->levels[level].at.z &&
            share_ground(kiln_of(job, load), load->levels[m].at.bay, load->levels[level].at.bay))
            return true;
    return false;
}

static bool has_ware(const ks_job *job, const ks_draft_level *level)
{
    bool any = false;
    for (int i = 0; i < level->n_pins; i++)
        any = any || level->pins[i].item != job->cone;
    for (int i = 0; i < level->layout.n_spots; i++)
        any = any || level->layout.spots[i].item != job->cone;
    return any;
}

/* While a load is filled, all of its levels are to have ware. */
static ks_level_rank rank_of(const ks_job *job, const ks_draft_load *load, int level, bool filled)
{
    ks_arena scratch = {0};
    const int *tiers = tiers_of(job, load, &scratch);
    ks_level_rank rank = {.tier = tiers[level],
                          .under_another = is_under_another(job, load, level)};
    for (int tier = 1; tier <= load->n_levels; tier++) {
        bool any = false;
        for (int m = 0; m < load->n_levels; m++)
            any = any || (tiers[m] == tier && (!filled || has_ware(job, &load->levels[m])));
        rank.of += any;
        rank.nth += any && tier <= rank.tier;
    }
    ks_arena_finish(&scratch);
    return rank;
}

static ks_level_wish wish_of(const ks_job *job, int item)
{
    if (item < job->order->n_pieces)
        return ks_wish_of(job->order, &job->order->pieces[item]);
    return (ks_level_wish){.word = KS_ANY_LEVEL};
}

/* Whether hands do not reach down to the kiln's floor with it. */
static bool is_heavy_to_reach(const ks_job *job, int kind, int item)
{
    return item < job->order->n_pieces &&
           ks_arm_spare_kg(&job->order->rules, &job->order->pieces[item],
                           job->kinds[kind].furniture->kiln, 0) < 0;
}

/* Thirds of the chamber's height in which it sees its cone, a bit each. */
enum { THIRDS = 3, EVERYWHERE = (1 << THIRDS) - 1 };
static unsigned thirds_of(const ks_job *job, int kind, int item)
{
    const ks_order *order = job->order;
    if (!job->options.thirds || item >= order->n_pieces)
        return EVERYWHERE;
    int firing = job->kinds[kind].kiln * order->n_firings + job->kinds[kind].firing;
    return job->options.thirds[firing * order->n_pieces + item];
}

bool ks_is_wished(const ks_job *job, int kind, int item)
{
    ks_level_wish wish = wish_of(job, item);
    return ks_has_wish(&wish) || is_heavy_to_reach(job, kind, item) ||
           thirds_of(job, kind, item) != EVERYWHERE;
}

/* Whether it, or in a tower one of its pieces, is of that id. */
static bool is_called(const ks_job *job, int item, const char *id)
{
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m);
        if (piece < job->order->n_pieces && strcmp(job->order->pieces[piece].id, id) == 0)
            return true;
    }
    return false;
}

static bool is_there(const ks_job *job, const ks_draft_level *level, const char *id)
{
    for (int i = 0; i < level->n_pins; i++)
        if (is_called(job, level->pins[i].item, id))
            return true;
    for (int i = 0; i < level->layout.n_spots; i++)
        if (is_called(job, level->layout.spots[i].item, id))
            return true;
    return false;
}

/* Whether it sees its cone on this level. */
static bool sees_its_cone(const ks_job *job, const ks_draft_load *load, int level, int item)
{
    double part = ks_mm_of(load->levels[level].at.z) / kiln_of(job, load)->height_mm;
    int third = (int)(THIRDS * part);
    third = third < 0 ? 0 : third < THIRDS ? third : THIRDS - 1;
    return thirds_of(job, load->kind, item) >> third & 1;
}

/* Whether hands reach down to where it would stand. */
static bool is_reached(const ks_job *job, const ks_draft_load *load, int level, int item)
{
    return item >= job->order->n_pieces ||
           ks_arm_spare_kg(&job->order->rules, &job->order->pieces[item], kiln_of(job, load),
                           ks_mm_of(load->levels[level].at.z)) >= 0;
}

/* Whether the order wants the item on a level so placed at all. */
static bool is_taken(const ks_job *job, ks_level_rank rank, int item)
{
    ks_level_wish wish = wish_of(job, item);
    const ks_rules *rules = &job->order->rules;
    for (int i = 0; i < rules->n_no_ware && item < job->order->n_pieces; i++)
        if (rules->no_ware[i].level.word != KS_ANY_LEVEL &&
            ks_wish_takes(&rules->no_ware[i].level, rank))
            return false;
    return ks_wish_takes(&wish, rank);
}

static bool holds(const ks_job *job, const ks_draft_load *load, int level, ks_level_rank rank,
                  int item)
{
    for (int m = 0; m < ks_job_members(job, item); m++) {
        int piece = ks_job_member(job, item, m);
        ks_level_wish wish = wish_of(job, piece);
        if (!is_taken(job, rank, piece) || !is_reached(job, load, level, piece) ||
            !sees_its_cone(job, load, level, piece) ||
            (wish.beside && !is_there(job, &load->levels[level], wish.beside)))
            return false;
    }
    return true;
}

bool ks_wish_holds(const ks_job *job, const ks_draft_load *load, int level, int item)
{
    return !job->any_wish || holds(job, load, level, rank_of(job, load, level, true), item);
}

static bool is_on_offer(const ks_job *job, const int *copies, const char *id)
{
    for (int i = 0; i < job->order->n_pieces; i++)
        if (is_called(job, i, id))
            return copies[i] > 0;
    return false;
}

void ks_wishes_offered(const ks_job *job, const ks_draft_load *load, int level, int *copies)
{
    if (!job->any_wish)
        return;
    ks_level_rank rank = rank_of(job, load, level, false);
    for (int i = 0; i < job->order->n_pieces; i++)
        if (!is_taken(job, rank, i) || !is_reached(job, load, level, i) ||
            !sees_its_cone(job, load, level, i))
            copies[i] = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        ks_level_wish wish = wish_of(job, i);
        if (wish.beside && !is_there(job, &load->levels[level], wish.beside) &&
            !is_on_offer(job, copies, wish.beside))
            copies[i] = 0;
    }
}

int ks_wishes_broken(const ks_job *job, const ks_draft_load *load)
{
    int n = 0;
    for (int l = 0; l < load->n_levels && job->any_wish; l++) {
        const ks_draft_level *level = &load->levels[l];
        ks_level_rank rank = rank_of(job, load, l, true);
        for (int i = 0; i < level->layout.n_spots; i++)
            n += !holds(job, load, l, rank, level->layout.spots[i].item);
    }
    return n;
}

static int weeded(const ks_job *job, ks_draft_load *load)
{
    int out = 0;
    for (int l = 0; l < load->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        ks_level_rank rank = rank_of(job, load, l, true);
        for (int i = level->layout.n_spots - 1; i >= 0; i--) {
            if (holds(job, load, l, rank, level->layout.spots[i].item))
                continue;
            memmove(&level->layout.spots[i], &level->layout.spots[i + 1],
                    sizeof *level->layout.spots * (size_t)(level->layout.n_spots - i - 1));
            level->layout.n_spots--;
            out++;
        }
    }
    return out;
}

/* What goes may be what another was to stand beside. */
void ks_wishes_weeded(const ks_job *job, ks_draft *draft)
{
    for (int s = 0; s < draft->n_loads && job->any_wish; s++)
        while (weeded(job, &draft->loads[s]) > 0)
            continue;
}

/* The lowest level that suits such a word; KS_NEED_TOP = the highest. */
static int number_for(const ks_level_wish *wish)
{
    if (wish->word == KS_TOP)
        return KS_NEED_TOP;
    if (wish->word == KS_NOT_ON_TIER)
        return wish->tier == 1;
    return wish->word == KS_ON_TIER ? wish->tier - 1 : 0;
}

static ks_level_need *need_for(ks_level_need *needs, int n, int number)
{
    int i = 0;
    while (i < n && needs[i].number != number)
        i++;
    if (i == n)
        needs[n] = (ks_level_need){.bay = KS_NEED_ANY_BAY, .number = number, .support = -1};
    return &needs[i];
}

/* A level that takes no ware is built as low as can be: as for the lowest ware. */
int ks_wish_needs(const ks_job *job, int kind, ks_level_need *needs)
{
    int n = 0;
    for (int i = 0; i < job->order->n_pieces; i++) {
        ks_level_wish wish = wish_of(job, i);
        if (wish.word == KS_ANY_LEVEL && is_heavy_to_reach(job, kind, i))
            wish.word = KS_TOP;
        if (wish.word == KS_ANY_LEVEL || job->items[i].copies == 0 || !job->kinds[kind].suits[i])
            continue;
        ks_level_need *need = need_for(needs, n, number_for(&wish));
        n += need == &needs[n];
        need->clear_mm = fmax(need->clear_mm, job->height_mm[i]);
    }
    for (int i = 0; i < job->order->rules.n_no_ware; i++) {
        const ks_level_wish *level = &job->order->rules.no_ware[i].level;
        if (level->word == KS_ANY_LEVEL || level->word == KS_TOP)
            continue;
        ks_level_need *need = need_for(needs, n, number_for(level));
        n += need == &needs[n];
        need->lowest = true;
    }
    return n;
}
