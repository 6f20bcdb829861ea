#include "check/check_judge.h"

/* Whether a load's values can be reckoned with at all: finite, and outlines that are outlines. */

static const double farthest_mm = 1e5;

static bool usable(double mm)
{
    return fabs(mm) <= farthest_mm;
}

static bool block_usable(const ks_outline *outline, double from, double to)
{
    return usable(from) && usable(to) && from < to && !ks_outline_fault(outline);
}

static bool clearance_usable(ks_clearance clearance)
{
    for (int i = 0; i < ks_n_clearances; i++) {
        double mm = *ks_clearance_at(&clearance, i);
        if (!usable(mm) || mm < 0)
            return false;
    }
    return true;
}

static bool piece_usable(const ks_placed *placed)
{
    bool so = placed->n_parts > 0 && usable(placed->stand.x) && usable(placed->stand.y) &&
              usable(placed->stand.turn_deg) && usable(placed->around_mm) && usable(placed->top_mm);
    for (int p = 0; so && p < placed->n_parts; p++)
        so = block_usable(&placed->parts[p].outline, placed->parts[p].from_mm,
                          placed->parts[p].to_mm) &&
             (placed->parts[p].hollow.n == 0 || !ks_outline_fault(&placed->parts[p].hollow));
    return so;
}

static void must(ks_judge *j, bool so, int level, const char *what)
{
    ks_note(j, RULE_SOUND, so ? 0 : -1, ks_spot_level(j, level, ks_text(what)));
}

static void level_sound(ks_judge *j, int l)
{
    const ks_level *level = &j->load->levels[l];
    must(j, usable(level->z_mm) && usable(level->gap_mm), l, "heights");
    for (int s = 0; s < level->n_shelves; s++) {
        const ks_shelf *shelf = &level->shelves[s];
        must(j,
             usable(shelf->thickness_mm) && shelf->thickness_mm > 0 &&
                 !ks_outline_fault(&shelf->outline),
             l, shelf->id);
    }
    for (int k = 0; k < level->n_pieces; k++)
        must(j, piece_usable(&level->pieces[k]), l, level->pieces[k].id);
}

bool ks_check_sound(ks_judge *j)
{
    const ks_load *load = j->load;
    int before = j->tallies[RULE_SOUND].n_broken;
    must(j, usable(load->height_mm) && load->height_mm > 0 && load->n_parts > 0, -1, "chamber");
    must(j, clearance_usable(load->clearance), -1, "clearances");
    for (int i = 0; i < load->n_parts; i++)
        must(j, block_usable(&load->parts[i].outline, load->parts[i].from_mm, load->parts[i].to_mm),
             -1, "chamber");
    for (int i = 0; i < load->n_keep_outs; i++)
        must(j,
             usable(load->keep_outs[i].clearance_mm) &&
                 block_usable(&load->keep_outs[i].outline, load->keep_outs[i].from_mm,
                              load->keep_outs[i].to_mm),
             -1, "keep-out");
    for (int i = 0; i < load->n_bays; i++)
        must(j, !ks_outline_fault(&load->bays[i].outline), -1, "bay");
    for (int i = 0; i < load->n_posts; i++)
        must(j, block_usable(&load->posts[i].outline, load->posts[i].from_mm, load->posts[i].to_mm),
             -1, "post");
    for (int l = 0; l < load->n_levels; l++)
        level_sound(j, l);
    return j->tallies[RULE_SOUND].n_broken == before;
}
