#include "place/job/furniture.h"

#include "studio/plate.h"

#include <math.h>

static const double hair_mm = 1e-6;        /* what a length may lose in doubles */
static const double resting_mm = 5 - 1e-6; /* how far a post reaches under a shelf to carry it */

static bool is_same(const ks_outline *a, const ks_outline *b)
{
    bool same = a->n == b->n && a->round == b->round;
    for (int i = 0; same && i < a->n; i++)
        same = a->at[i].x == b->at[i].x && a->at[i].y == b->at[i].y;
    return same;
}

int ks_section_of(const ks_furniture *furniture, const ks_outline *outline)
{
    for (int s = 0; s < furniture->n_sections; s++)
        if (is_same(&furniture->sections[s], outline))
            return s;
    return -1;
}

void ks_sections_list(ks_furniture *furniture, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    furniture->sections = KS_TAKE(arena, kiln->n_posts, ks_outline);
    for (int i = 0; i < kiln->n_posts; i++)
        if (ks_section_of(furniture, &kiln->posts[i].outline) < 0)
            furniture->sections[furniture->n_sections++] = kiln->posts[i].outline;
}

ks_outline ks_shelf_lay(const ks_kiln *kiln, const ks_support *support, int shelf, ks_arena *arena)
{
    return ks_outline_place(&kiln->shelves[support->shelves[shelf].kind].outline,
                            support->shelves[shelf].stand, arena);
}

static ks_outline stand(const ks_furniture *furniture, int section, ks_point place, ks_arena *arena)
{
    return ks_outline_place(&furniture->sections[section], (ks_stand){place.x, place.y, 0}, arena);
}

bool ks_bay_meets_post(const ks_furniture *furniture, int bay, ks_point place, ks_arena *arena)
{
    const ks_bay *b = &furniture->kiln->bays[bay];
    for (int k = 0; k < furniture->n_sections; k++) {
        ks_outline post = stand(furniture, k, place, arena);
        for (int i = 0; i < b->n_supports; i++)
            for (int s = 0; s < b->supports[i].n_shelves; s++) {
                ks_outline shelf = ks_shelf_lay(furniture->kiln, &b->supports[i], s, arena);
                if (ks_outline_distance(&post, &shelf) < -hair_mm)
                    return true;
            }
    }
    return false;
}

bool ks_post_meets_level(const ks_post *post, const ks_level *level)
{
    for (int s = 0; s < level->n_shelves; s++)
        if (ks_outline_nearer(&post->outline, &level->shelves[s].outline, 0))
            return true;
    return false;
}

static bool is_carried(const ks_outline *shelf, const ks_outline *posts, int n, ks_arena *arena)
{
    ks_outline *under = KS_TAKE(arena, n, ks_outline);
    int n_under = 0;
    for (int i = 0; i < n; i++)
        if (ks_outline_distance(&posts[i], shelf) <= -resting_mm)
            under[n_under++] = posts[i];
    if (n_under < 3)
        return false;
    ks_outline hull = ks_outline_hull(under, n_under, arena);
    return ks_outline_from_point(&hull, ks_outline_centroid(shelf)) <= 0;
}

bool ks_section_carries(const ks_furniture *furniture, const ks_post_places *places, int section,
                        const ks_support *support, ks_arena *arena)
{
    ks_outline *posts = KS_TAKE(arena, places->n, ks_outline);
    for (int i = 0; i < places->n; i++)
        posts[i] = stand(furniture, section, places->at[i], arena);
    bool carries = support->n_shelves > 0;
    for (int s = 0; s < support->n_shelves && carries; s++) {
        ks_outline shelf = ks_shelf_lay(furniture->kiln, support, s, arena);
        carries = is_carried(&shelf, posts, places->n, arena);
    }
    return carries;
}

/* The shelves of one way of shelving a column. */
typedef struct {
    int n;
    ks_outline *at;
} shelves;

static shelves lay_way(const ks_furniture *f, const ks_column *column,
                       const struct ks_shelving *way, ks_arena *arena)
{
    shelves all = {0};
    int room = 0;
    for (int b = 0; b < column->n_bays; b++) {
        const ks_support *support = &f->kiln->bays[column->bays[b]].supports[way->supports[b]];
        for (int s = 0; s < support->n_shelves; s++) {
            all.at = KS_GROW(arena, all.at, all.n, &room, ks_outline);
            all.at[all.n++] = ks_shelf_lay(f->kiln, support, s, arena);
        }
    }
    return all;
}

static bool reaches_under(const ks_outline *post, const shelves *all)
{
    for (int s = 0; s < all->n; s++)
        if (ks_outline_distance(post, &all->at[s]) <= -resting_mm)
            return true;
    return false;
}

/* Whether a post stands safely on shelves that lie on the floor; over a seam they carry it
 * together. */
static bool stands_on(const ks_outline *post, ks_point place, const shelves *all, ks_arena *arena)
{
    ks_outline *under = KS_TAKE(arena, all->n, ks_outline);
    int n = 0;
    for (int s = 0; s < all->n; s++)
        if (ks_outline_distance(post, &all->at[s]) < -hair_mm)
            under[n++] = all->at[s];
    if (n == 0)
        return false;
    ks_outline hull = ks_outline_hull(under, n, arena);
    return ks_outline_from_point(&hull, place) <= 0;
}

static void find_bearing_of_way(const ks_furniture *f, const ks_post_places *places,
                                const ks_column *column, struct ks_shelving *way, ks_arena *arena)
{
    shelves all = lay_way(f, column, way, arena);
    way->bears = KS_TAKE(arena, f->n_sections, bool);
    way->bears_on_floor = KS_TAKE(arena, f->n_sections, bool);
    for (int k = 0; k < f->n_sections; k++) {
        way->bears[k] = way->bears_on_floor[k] = true;
        for (int b = 0; b < column->n_bays && way->bears[k]; b++)
            way->bears[k] = ks_section_carries(
                f, places, k, &f->kiln->bays[column->bays[b]].supports[way->supports[b]], arena);
        for (int i = 0; i < column->n_posts; i++) {
            ks_point place = places->at[column->posts[i]];
            ks_outline post = stand(f, k, place, arena);
            ks_point middle = ks_outline_centroid(&post);
            way->bears[k] = way->bears[k] && reaches_under(&post, &all);
            way->bears_on_floor[k] =
                way->bears_on_floor[k] && stands_on(&post, middle, &all, arena);
        }
    }
}

int ks_posts_under(const ks_furniture *f, const ks_post_places *places, const bool *sections,
                   const ks_outline *shelf, ks_rotation turned, ks_point *out, ks_arena *arena)
{
    int n = 0;
    for (int i = 0; i < places->n; i++) {
        ks_point at = places->at[i];
        at = (ks_point){at.x * turned.c - at.y * turned.s, at.x * turned.s + at.y * turned.c};
        bool rests = true;
        for (int k = 0; k < f->n_sections && rests; k++) {
            ks_outline post = stand(f, k, at, arena);
            rests = (sections && !sections[k]) || ks_outline_distance(&post, shelf) <= -resting_mm;
        }
        if (rests)
            out[n++] = at;
    }
    return n;
}

/* Posts that may turn bend it a little more or less: the most of some turns, and a hair. */
static double bending_of(const ks_furniture *f, const ks_post_places *places, const bool *sections,
                         const ks_outline *shelf, bool turn, ks_arena *arena)
{
    const int turns = 4;
    const double apart_deg = 7.5, hair = 1.005;
    ks_point *under = KS_TAKE(arena, places->n, ks_point);
    double most = 0;
    for (int t = 0; t < (turn ? turns : 1); t++) {
        int n =
            ks_posts_under(f, places, sections, shelf, ks_rotation_of(t * apart_deg), under, arena);
        most = fmax(most, ks_plate_bending(shelf, NULL, n, under, arena));
    }
    return turn ? hair * most : most;
}

static void find_bending_of_way(const ks_furniture *f, const ks_post_places *places,
                                const ks_column *column, struct ks_shelving *way, ks_arena *arena)
{
    way->bending = KS_TAKE(arena, column->n_bays, double *);
    for (int b = 0; b < column->n_bays; b++) {
        const ks_support *support = &f->kiln->bays[column->bays[b]].supports[way->supports[b]];
        way->bending[b] = KS_TAKE(arena, support->n_shelves, double);
        for (int s = 0; s < support->n_shelves; s++) {
            ks_outline shelf = ks_shelf_lay(f->kiln, support, s, arena);
            way->bending[b][s] =
                bending_of(f, places, way->bears, &shelf, support->posts_turn, arena);
        }
    }
}

void ks_column_find_bearing(const ks_furniture *furniture, const ks_post_places *places,
                            ks_column *column, ks_arena *arena)
{
    for (int w = 0; w < column->n_ways; w++) {
        find_bearing_of_way(furniture, places, column, &column->ways[w], arena);
        find_bending_of_way(furniture, places, column, &column->ways[w], arena);
    }
}

static void bar(ks_barred *barred, double from, double to)
{
    barred->from[barred->n] = ks_um_of(from);
    barred->to[barred->n++] = ks_um_of(to);
}

static void bar_in_chamber(const ks_kiln *kiln, const ks_outline *post, ks_barred *barred)
{
    for (int i = 0; i < kiln->n_parts; i++)
        if (ks_outline_inside(post, &kiln->parts[i].outline) < -hair_mm)
            bar(barred, kiln->parts[i].from_mm, kiln->parts[i].to_mm);
    for (int i = 0; i < kiln->n_keep_outs; i++)
        if (ks_outline_distance(post, &kiln->keep_outs[i].outline) < -hair_mm)
            bar(barred, kiln->keep_outs[i].from_mm, kiln->keep_outs[i].to_mm);
}

/* Another post of the column is of the same cross-section; one of a column beside it may be of any.
 */
static bool meets_post(const ks_furniture *f, const ks_outline *post, int section, ks_point other,
                       bool same_column, ks_arena *arena)
{
    for (int k = 0; k < f->n_sections; k++) {
        if (same_column && k != section)
            continue;
        ks_outline beside = stand(f, k, other, arena);
        if (ks_outline_distance(post, &beside) < -hair_mm)
            return true;
    }
    return false;
}

static bool meets_some_post(const ks_furniture *f, const ks_post_layout *layout, int column,
                            int index, int section, ks_arena *arena)
{
    const ks_post_places *places = &f->places[layout->places];
    int own = layout->columns[column].posts[index];
    ks_outline post = stand(f, section, places->at[own], arena);
    for (int c = 0; c < layout->n_columns; c++)
        for (int i = 0; i < layout->columns[c].n_posts; i++) {
            int other = layout->columns[c].posts[i];
            if (other != own &&
                meets_post(f, &post, section, places->at[other], c == column, arena))
                return true;
        }
    return false;
}

static ks_barred barred_for(const ks_furniture *f, const ks_post_layout *layout, int column,
                            int section, ks_arena *arena)
{
    const ks_kiln *kiln = f->kiln;
    const ks_column *c = &layout->columns[column];
    int most = c->n_posts * (kiln->n_parts + kiln->n_keep_outs + 1);
    ks_barred barred = {0, KS_TAKE(arena, most, ks_um), KS_TAKE(arena, most, ks_um)};
    for (int i = 0; i < c->n_posts; i++) {
        ks_point place = f->places[layout->places].at[c->posts[i]];
        ks_outline post = stand(f, section, place, arena);
        bar_in_chamber(kiln, &post, &barred);
        if (meets_some_post(f, layout, column, i, section, arena))
            bar(&barred, 0, kiln->height_mm);
    }
    return barred;
}

void ks_layout_find_posts_barred(const ks_furniture *furniture, ks_post_layout *layout,
                                 ks_arena *arena)
{
    for (int c = 0; c < layout->n_columns; c++) {
        ks_column *column = &layout->columns[c];
        column->posts_barred = KS_TAKE(arena, furniture->n_sections, ks_barred);
        for (int k = 0; k < furniture->n_sections; k++)
            column->posts_barred[k] = barred_for(furniture, layout, c, k, arena);
    }
}

bool ks_posts_stand(const ks_furniture *furniture, const ks_column *column, int gap, ks_um from)
{
    const ks_barred *barred = &column->posts_barred[furniture->gaps[gap].section];
    ks_um to = from + furniture->gaps[gap].height;
    for (int i = 0; i < barred->n; i++)
        if (barred->from[i] < to && from < barred->to[i])
            return false;
    return true;
}

bool ks_way_rests(const ks_furniture *furniture, const ks_column *column, int way, int gap,
                  ks_um base)
{
    if (gap < 0)
        return true;
    const ks_gap *posts = &furniture->gaps[gap];
    return column->ways[way].bears[posts->section] &&
           ks_posts_stand(furniture, column, gap, base - posts->height);
}
