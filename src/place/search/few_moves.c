#include "place/search/few_moves.h"

#include "place/draft/offer.h"
#include "place/draft/ranking.h"

/* A wide new piece finds no place beside what stands, though there is room enough for all. So one
 * level is laid out anew with what it holds and the piece, from where things stand: the packer
 * moves what is in the way. Of all levels that take it the one is chosen where the fewest moved. */

enum { FILLINGS_MOST = 100 };

typedef struct {
    ks_run *run;
    ks_random random;
    ks_arena *arena;
    int fillings; /* so far */
} moving;

/* What the level holds, and one copy of the item if it may stand there; how many in all. */
static int offer_with(const moving *m, ks_draft *draft, int slot, int l, int item, int *copies)
{
    const ks_shelf_layout *layout = &draft->loads[slot].levels[l].layout;
    ks_arena scratch = {0};
    int *offered = KS_TAKE(&scratch, m->run->job->n_items, int);
    ks_offer_copies(m->run->job, draft, slot, l, offered);
    const bool may_stand = offered[item] > 0;
    copies[item] = may_stand;
    for (int i = 0; i < layout->n_spots; i++)
        copies[layout->spots[i].item]++;
    ks_arena_finish(&scratch);
    return may_stand ? layout->n_spots + 1 : 0;
}

/* Whether all of it found room. */
static bool is_laid_with(moving *m, ks_draft *draft, int slot, int l, int item)
{
    const ks_job *job = m->run->job;
    ks_draft_level *level = &draft->loads[slot].levels[l];
    ks_shelf_layout before = level->layout;
    int *copies = KS_TAKE(m->arena, job->n_items, int);
    int wanted = offer_with(m, draft, slot, l, item, copies);
    const ks_load_kind *kind = &job->kinds[draft->loads[slot].kind];
    if (wanted == 0 || job->height_mm[item] > ks_level_clear_mm(kind, &level->at))
        return false;
    ks_draft_clear_level(job, draft, slot, l);
    ks_fill fill = {.job = job,
                    .kind = kind,
                    .level = &level->at,
                    .worth = m->run->pool.worth,
                    .copies = copies,
                    .warm = &before,
                    .n_pins = level->n_pins,
                    .pins = level->pins,
                    .mass_left_kg = ks_offer_mass_kg(job, draft, slot),
                    .seed = ks_random_bits(&m->random),
                    .work = m->run->work};
    m->fillings++;
    ks_draft_set_level(job, draft, slot, l, ks_level_fill(&fill, m->arena));
    ks_draft_count(job, draft);
    return level->layout.n_spots == wanted;
}

static bool is_let_in(moving *m, ks_draft *draft, int item)
{
    const ks_run *run = m->run;
    ks_draft best = *draft;
    int most = -1;
    for (int s = 0; s < draft->n_loads; s++)
        for (int l = 0; l < draft->loads[s].n_levels && m->fillings < FILLINGS_MOST; l++) {
            ks_draft tried = ks_draft_copy(run->job, draft, m->arena);
            if (ks_stop_is_asked(run->job->stop) || !is_laid_with(m, &tried, s, l, item) ||
                ks_ranking_compare_ware(run->job, &tried, draft) <= 0)
                continue;
            int stayed = ks_before_stayed(run->job, &run->before, &tried);
            best = stayed > most ? tried : best;
            most = stayed > most ? stayed : most;
        }
    *draft = best;
    return most >= 0;
}

void ks_let_in_by_few_moves(ks_run *run, ks_draft *draft, ks_arena *arena)
{
    moving m = {run, ks_run_random(run, KS_FOR_EARLIER, 2), arena, 0};
    for (int i = 0; i < run->job->order->n_pieces; i++)
        while (draft->left[i] > 0 && is_let_in(&m, draft, i))
            continue;
}
