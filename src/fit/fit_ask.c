#include "fit/fit_ask.h"

#include "fit/fit_piece.h"
#include "fit/fit_way.h"
#include "pack/shelf/roomiest.h"

#include <math.h>

/* Length of the piece's clay after a stage, of what it is now. */
static double factor_to(const ks_fit_question *q, const ks_piece *piece, ks_stage stage)
{
    if (stage <= piece->stage)
        return 1;
    const ks_clay *clay = ks_clay_or_usual(q->order->clays, piece->clay);
    return 1 - ks_clay_shrinkage(clay, piece->stage, stage, q->cone);
}

static ks_fit_entry entry_at(const ks_fit_question *q, const ks_piece *piece, ks_stage stage,
                             const char *name)
{
    ks_fit_entry entry = {.name = name, .stage = stage};
    entry.factor = factor_to(q, piece, stage);
    entry.piece = ks_piece_scale(piece, entry.factor, q->arena);
    entry.piece.stage = stage;
    if (!piece->setter.stage_told)
        entry.piece.setter.stage = stage == KS_GLAZED ? KS_BISQUE : stage; /* made with its form */
    return entry;
}

int ks_fit_entries(const ks_fit_question *q, const ks_piece *piece, ks_fit_entry *out)
{
    if (piece->stage >= KS_BISQUE) {
        out[0] = entry_at(q, piece, piece->stage, piece->glazed ? "glaze firing" : "firing");
        return 1;
    }
    if (piece->glazed) {
        out[0] = entry_at(q, piece, KS_DRY, "single firing, raw glazed");
        return 1;
    }
    ks_piece bare = ks_piece_bare(piece, q->arena);
    out[0] = entry_at(q, &bare, KS_DRY, "bisque firing, bare");
    out[1] = entry_at(q, piece, KS_BISQUE, piece->n_glazes > 0 ? "glaze firing" : "second firing");
    out[1].piece.glazed = piece->n_glazes > 0;
    return 2;
}

static double through_doorway(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    if (!(kiln->opening_width_mm > 0))
        return INFINITY;
    double wide = kiln->opening_width_mm - ks_piece_breadth_mm(piece, q->arena);
    double high = kiln->opening_height_mm - piece->height_mm - q->options->board_mm;
    return fmin(wide / 2, high);
}

static double past_rim(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    ks_part all = {KS_PART_BODY, 0, piece->height_mm, ks_piece_hull(piece, q->arena), {0}};
    ks_shelf_item item = {.n_parts = 1, .parts = &all};
    double least = INFINITY;
    for (int p = 1; p < kiln->n_parts; p++) {
        ks_shelf_region region = {.outline = kiln->parts[p].outline, .to_mm = INFINITY};
        ks_shelf_space space = {.n_regions = 1, .regions = &region, .height_mm = INFINITY};
        least = fmin(least, ks_roomiest_find(&space, &item, 1).slack_mm);
    }
    return least;
}

double ks_fit_passage_mm(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    return kiln->loading == KS_FRONT_LOADER ? through_doorway(q, piece, kiln)
                                            : past_rim(q, piece, kiln);
}

static bool try_entry(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    ks_fit_case asked;
    ks_error unused = {0};
    if (ks_fit_passage_mm(q, piece, kiln) < 0 ||
        ks_fit_case_of(q->order, piece, 1, kiln, q->known, q->arena, &asked, &unused) != KS_OK)
        return false;
    asked.n_below = q->options->n_below;
    asked.below_mm = q->options->below_mm;
    return ks_fit_somehow(&asked, q->arena);
}

bool ks_fit_try(const ks_fit_question *q, const ks_piece *piece, const ks_kiln *kiln)
{
    ks_fit_entry entries[KS_FIT_ENTRIES];
    int n = ks_fit_entries(q, piece, entries);
    for (int i = 0; i < n; i++)
        if (!try_entry(q, &entries[i].piece, kiln))
            return false;
    return true;
}
