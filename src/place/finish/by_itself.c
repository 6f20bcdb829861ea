#include "place/finish/by_itself.h"

#include "place/draft/offer.h"
#include "place/search/greedy.h"
#include "place/stack/stands_alone.h"

#include <math.h>
#include <string.h>

/* The question with nothing but one item on offer, and its rules free to be changed. */
typedef struct {
    ks_arena arena;
    ks_job job;
    ks_order order;
    ks_furniture furniture;
    ks_kiln kiln;
    int kind, slot, item;
} alone;

static int slot_of(const ks_job *job, int kind)
{
    int slot = 0;
    while (slot < job->n_slots && job->slot_kind[slot] != kind)
        slot++;
    return slot;
}

static void offer_only(alone *a)
{
    ks_shelf_item *items = KS_TAKE(&a->arena, a->job.n_items, ks_shelf_item);
    memcpy(items, a->job.items, sizeof *items * (size_t)a->job.n_items);
    for (int i = 0; i < a->job.order->n_pieces; i++)
        items[i].copies = i == a->item && items[i].copies > 0;
    a->job.items = items;
}

static void open_rules(alone *a)
{
    ks_load_kind *kinds = KS_TAKE(&a->arena, a->job.n_kinds, ks_load_kind);
    memcpy(kinds, a->job.kinds, sizeof *kinds * (size_t)a->job.n_kinds);
    a->order = *a->job.order;
    a->furniture = *kinds[a->kind].furniture;
    a->kiln = *a->furniture.kiln;
    a->furniture.kiln = &a->kiln;
    kinds[a->kind].furniture = &a->furniture;
    a->job.order = &a->order;
    a->job.kinds = kinds;
}

static bool holds(const ks_draft_load *load, int item)
{
    for (int l = 0; l < load->n_levels; l++)
        for (int i = 0; i < load->levels[l].layout.n_spots; i++)
            if (load->levels[l].layout.spots[i].item == item)
                return true;
    return false;
}

/* Plans it; `mass_kg`, if asked for, gets what the load then weighs. */
static bool goes_in(const alone *a, double *mass_kg)
{
    enum { WORK = 60 };
    ks_arena scratch = {0};
    ks_random random = ks_stream(a->job.options.seed, KS_FOR_BY_ITSELF, a->item, a->kind);
    ks_greedy greedy = {.job = &a->job, .density = 0.8, .work = WORK, .random = &random};
    ks_draft draft = ks_draft_empty(&a->job, &scratch);
    ks_greedy_load(&greedy, &draft, a->slot, KS_TAKE(&scratch, a->job.n_kinds, int), &scratch);
    bool in = holds(&draft.loads[a->slot], a->item);
    if (mass_kg)
        *mass_kg =
            ks_furniture_mass_kg(&a->job, &draft.loads[a->slot]) + a->job.items[a->item].mass_kg;
    ks_arena_finish(&scratch);
    return in;
}

/* To the whole millimetre, down to none. */
static bool goes_with_less_hand_room(alone *a, double *most_mm)
{
    double asked = a->order.rules.hand_room_mm, low = 0, high = ceil(asked);
    a->order.rules.hand_room_mm = 0;
    bool in = a->kiln.loading == KS_FRONT_LOADER && asked > 0 && goes_in(a, NULL);
    while (in && high - low > 1) {
        double middle = floor((low + high) / 2);
        a->order.rules.hand_room_mm = middle;
        *(goes_in(a, NULL) ? &low : &high) = middle;
    }
    a->order.rules.hand_room_mm = asked;
    *most_mm = low;
    return in;
}

static bool goes_without_cones(alone *a)
{
    int cone = a->job.cone;
    a->job.cone = -1;
    bool in = cone >= 0 && goes_in(a, NULL);
    a->job.cone = cone;
    return in;
}

static bool goes_without_limit(alone *a, double *mass_kg)
{
    double limit = a->kiln.mass_limit_kg;
    a->kiln.mass_limit_kg = 0;
    bool in = limit > 0 && goes_in(a, mass_kg);
    a->kiln.mass_limit_kg = limit;
    return in;
}

static double widest_mm2(const ks_kiln *kiln)
{
    double most = 0;
    for (int s = 0; s < kiln->n_shelves; s++)
        most = fmax(most, ks_outline_area(&kiln->shelves[s].outline));
    return most;
}

bool ks_surely_by_itself(const ks_job *job, int kind, int item)
{
    const ks_kiln *kiln = job->kinds[kind].furniture->kiln;
    bool leaves_packs_room =
        job->cone < 0 || job->area_mm2[item] + job->area_mm2[job->cone] < widest_mm2(kiln) / 2;
    return leaves_packs_room && !(kiln->mass_limit_kg > 0) && ks_stands_alone(job, kind, item);
}

static ks_by_itself find(const ks_job *job, int kind, int item, bool why)
{
    alone a = {.job = *job, .kind = kind, .slot = slot_of(job, kind), .item = item};
    ks_by_itself found = {.bar = KS_BAR_OTHER};
    if (a.slot == job->n_slots || !job->kinds[kind].suits[item])
        return found;
    offer_only(&a);
    open_rules(&a);
    if (goes_in(&a, NULL))
        found.bar = KS_BAR_NONE;
    else if (why && goes_with_less_hand_room(&a, &found.hand_room_mm))
        found.bar = KS_BAR_HANDS;
    else if (why && goes_without_cones(&a))
        found.bar = KS_BAR_CONES;
    else if (why && goes_without_limit(&a, &found.mass_kg))
        found.bar = KS_BAR_MASS;
    ks_arena_finish(&a.arena);
    return found;
}

ks_by_itself ks_by_itself_find(const ks_job *job, int kind, int item)
{
    return find(job, kind, item, true);
}

bool ks_goes_by_itself(const ks_job *job, int kind, int item)
{
    return ks_surely_by_itself(job, kind, item) || find(job, kind, item, false).bar == KS_BAR_NONE;
}
