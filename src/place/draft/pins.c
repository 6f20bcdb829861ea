#include "place/draft/pins.h"

#include "place/draft/alone.h"
#include "place/draft/beside.h"
#include "place/draft/cone_packs.h"
#include "place/draft/offer.h"

#include <string.h>

/* The bay that a pin names; where it names none, the first that reaches over its place. */
static int bay_kept(const ks_kiln *kiln, const ks_keep *keep)
{
    for (int b = 0; b < kiln->n_bays; b++) {
        bool named = keep->bay && keep->bay[0];
        ks_point at = {keep->stand.x, keep->stand.y};
        if (named ? strcmp(keep->bay, kiln->bays[b].id) == 0
                  : ks_outline_from_point(&kiln->bays[b].outline, at) <= 0)
            return b;
    }
    return -1;
}

static bool is_for(const ks_job *job, int slot, int piece)
{
    return ks_job_is_kept_in(job, slot, piece) && job->items[piece].copies > 0 &&
           job->kinds[job->slot_kind[slot]].suits[piece];
}

/* The bay in which a piece of the order is kept in this slot; -1 if it is not, or may not be. */
static int bay_in_slot(const ks_job *job, int slot, int piece)
{
    const ks_kiln *kiln = &job->order->kilns[job->kinds[job->slot_kind[slot]].kiln];
    return is_for(job, slot, piece) ? bay_kept(kiln, &job->order->pieces[piece].keep) : -1;
}

/* What is kept on a level and can stand there beside what is kept there before it. */
static void find_pins(const ks_job *job, int slot, ks_draft_level *level, ks_arena *arena)
{
    ks_beside on = {.job = job, .kind = &job->kinds[job->slot_kind[slot]], .at = &level->at};
    for (int i = 0; i < job->order->n_pieces; i++) {
        const ks_keep *keep = &job->order->pieces[i].keep;
        if (bay_in_slot(job, slot, i) != level->at.bay || keep->level != level->at.number)
            continue;
        if (!on.spots) {
            on.spots = KS_TAKE(arena, job->order->n_pieces, ks_shelf_spot);
            on.space = ks_level_space(job, on.kind, on.at, arena);
        }
        ks_beside_stood(&on, (ks_shelf_spot){i, keep->stand});
    }
    level->pins = on.spots;
    level->n_pins = on.n;
}

/* Shelves and posts of a load begun are not yet all needed, but will be: they weigh in full. */
static int faults_with(const ks_job *job, const ks_draft *draft, int slot)
{
    return ks_alone_faults_begun(job, draft, slot) + (ks_offer_mass_kg(job, draft, slot) < 0);
}

/* What is kept on different levels may break a rule together, and one piece a rule of the whole
 * load: of these the later in the order and farther up are left out. */
static void pins_weeded(const ks_job *job, ks_draft *draft, int slot)
{
    ks_draft_load *load = &draft->loads[slot];
    ks_arena scratch = {0};
    int *found = KS_TAKE(&scratch, load->n_levels, int);
    int most = faults_with(job, draft, slot);
    for (int l = 0; l < load->n_levels; l++) {
        found[l] = load->levels[l].n_pins;
        load->levels[l].n_pins = 0;
    }
    int faults = faults_with(job, draft, slot);
    for (int l = 0; l < load->n_levels; l++) {
        ks_draft_level *level = &load->levels[l];
        for (int i = 0; i < found[l]; i++) {
            level->pins[level->n_pins++] = level->pins[i];
            if (most > faults && faults_with(job, draft, slot) > faults)
                level->n_pins--;
        }
    }
    ks_arena_finish(&scratch);
}

/* Puts what is kept in a load just built, still bare, where it can stand by all rules. */
static void set_pins(const ks_job *job, ks_draft *draft, int slot, ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    bool any = false;
    for (int l = 0; l < load->n_levels; l++) {
        find_pins(job, slot, &load->levels[l], arena);
        any = any || load->levels[l].n_pins > 0;
    }
    if (any)
        pins_weeded(job, draft, slot);
}

bool ks_draft_build(const ks_job *job, ks_draft *draft, int slot, const ks_stack *stack,
                    ks_arena *arena)
{
    ks_draft_load *load = &draft->loads[slot];
    load->n_levels = stack->n_levels;
    load->levels = KS_TAKE(arena, stack->n_levels, ks_draft_level);
    for (int l = 0; l < stack->n_levels; l++)
        load->levels[l].at = stack->levels[l];
    set_pins(job, draft, slot, arena);
    bool sound = ks_ask_cones(job, draft, slot, arena) && ks_offer_mass_kg(job, draft, slot) >= 0;
    if (!sound)
        load->n_levels = 0;
    return sound;
}

int ks_pins_needs(const ks_job *job, int slot, ks_level_need **needs, ks_arena *arena)
{
    int n = 0;
    *needs = KS_TAKE(arena, job->order->n_pieces, ks_level_need);
    for (int i = 0; i < job->order->n_pieces; i++) {
        int bay = bay_in_slot(job, slot, i);
        if (bay >= 0)
            (*needs)[n++] = (ks_level_need){.bay = bay,
                                            .number = job->order->pieces[i].keep.level,
                                            .clear_mm = job->height_mm[i],
                                            .support = -1};
    }
    return n;
}
