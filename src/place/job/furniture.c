#include "place/job/furniture.h"

#include "place/job/seam.h"

#include <stdlib.h>

ks_um ks_um_of(double mm)
{
    return mm >= 0 ? (ks_um)(mm * 1000 + 0.5) : -(ks_um)(-mm * 1000 + 0.5);
}

ks_um ks_um_over(double mm)
{
    ks_um nearest = ks_um_of(mm);
    return ks_mm_of(nearest) + 1e-9 < mm ? nearest + 1 : nearest;
}

double ks_mm_of(ks_um um)
{
    return (double)um / 1000;
}

static int by_height(const void *a, const void *b)
{
    const ks_gap *x = a, *y = b;
    if (x->height != y->height)
        return x->height < y->height ? -1 : 1;
    if (x->n != y->n)
        return x->n - y->n;
    return x->kind[0] != y->kind[0] ? x->kind[0] - y->kind[0] : x->kind[1] - y->kind[1];
}

/* Only posts of one cross-section are stacked: a plan's post has one outline. */
static void list_gaps(ks_furniture *furniture, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    int kinds = kiln->n_posts;
    furniture->gaps = KS_TAKE(arena, kinds + kinds * (kinds + 1) / 2, ks_gap);
    int n = 0;
    for (int i = 0; i < kinds; i++) {
        ks_um one = ks_um_of(kiln->posts[i].height_mm);
        int section = ks_section_of(furniture, &kiln->posts[i].outline);
        furniture->gaps[n++] = (ks_gap){one, 1, {i, -1}, section};
        for (int j = 0; j <= i; j++) {
            if (ks_section_of(furniture, &kiln->posts[j].outline) != section)
                continue;
            ks_um other = ks_um_of(kiln->posts[j].height_mm);
            int low = one >= other ? i : j;
            furniture->gaps[n++] = (ks_gap){one + other, 2, {low, i + j - low}, section};
        }
    }
    qsort(furniture->gaps, (size_t)n, sizeof *furniture->gaps, by_height);
    while (n > 0 && furniture->gaps[n - 1].height > ks_um_of(kiln->height_mm))
        n--;
    furniture->n_gaps = n;
}

static void find_widest_post(ks_furniture *furniture, ks_arena *arena)
{
    double reach = 0;
    for (int k = 0; k < furniture->n_sections; k++) {
        double r = ks_outline_reach(&furniture->sections[k]);
        reach = r > reach ? r : reach;
    }
    furniture->posts_alike = furniture->n_sections <= 1;
    furniture->post = furniture->n_sections == 1
                          ? furniture->sections[0]
                          : ks_outline_disc(0, 0, reach > 0 ? reach : 1, arena);
}

static bool is_among(const ks_post_places *places, ks_point p)
{
    for (int i = 0; i < places->n; i++) {
        double dx = places->at[i].x - p.x, dy = places->at[i].y - p.y;
        if (dx * dx + dy * dy < 1)
            return true;
    }
    return false;
}

static bool are_all_among(const ks_post_places *inner, const ks_post_places *outer)
{
    for (int i = 0; i < inner->n; i++)
        if (!is_among(outer, inner->at[i]))
            return false;
    return true;
}

/* Places that the bays ask for when each takes its `family`-th support (or its last). */
static ks_post_places places_of(const ks_kiln *kiln, const ks_arrangement *up, int family,
                                ks_arena *arena)
{
    ks_post_places places = {0};
    int room = 0;
    for (int b = 0; b < up->n_bays; b++) {
        const ks_bay *bay = &kiln->bays[up->bays[b]];
        if (bay->n_supports == 0)
            continue;
        const ks_support *s =
            &bay->supports[family < bay->n_supports ? family : bay->n_supports - 1];
        for (int i = 0; i < s->n_posts; i++)
            if (!is_among(&places, s->posts[i])) {
                places.at = KS_GROW(arena, places.at, places.n, &room, ks_point);
                places.at[places.n++] = s->posts[i];
            }
    }
    return places;
}

static void list_places(ks_furniture *furniture, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    int room = 0;
    for (int a = 0; a < kiln->n_arrangements; a++) {
        const ks_arrangement *up = &kiln->arrangements[a];
        int families = 0;
        for (int b = 0; b < up->n_bays; b++)
            if (kiln->bays[up->bays[b]].n_supports > families)
                families = kiln->bays[up->bays[b]].n_supports;
        for (int f = 0; f < families; f++) {
            ks_post_places places = places_of(kiln, up, f, arena);
            bool known = places.n == 0;
            for (int i = 0; i < furniture->n_places && !known; i++)
                known = are_all_among(&places, &furniture->places[i]) &&
                        are_all_among(&furniture->places[i], &places);
            if (known)
                continue;
            furniture->places =
                KS_GROW(arena, furniture->places, furniture->n_places, &room, ks_post_places);
            furniture->places[furniture->n_places++] = places;
        }
    }
}

/* Whether posts of some cross-section carry it here. */
static bool is_usable(const ks_furniture *furniture, const ks_post_places *places, int bay,
                      int number, ks_arena *arena)
{
    const ks_support *support = &furniture->kiln->bays[bay].supports[number];
    bool usable = false;
    for (int k = 0; k < furniture->n_sections && !usable; k++)
        usable = ks_section_carries(furniture, places, k, support, arena);
    return usable && furniture->inset_mm[bay][number] >= 0;
}

static ks_um thickness_of(const ks_kiln *kiln, const ks_support *support)
{
    double most = 0;
    for (int s = 0; s < support->n_shelves; s++)
        if (kiln->shelves[support->shelves[s].kind].thickness_mm > most)
            most = kiln->shelves[support->shelves[s].kind].thickness_mm;
    return ks_um_of(most);
}

static bool is_even(const ks_kiln *kiln, const ks_support *support)
{
    for (int s = 0; s < support->n_shelves; s++)
        if (ks_um_of(kiln->shelves[support->shelves[s].kind].thickness_mm) !=
            thickness_of(kiln, support))
            return false;
    return true;
}

static bool shelved_alike(const ks_support *a, const ks_support *b)
{
    bool alike = a->n_shelves == b->n_shelves;
    for (int s = 0; alike && s < a->n_shelves; s++)
        alike = a->shelves[s].kind == b->shelves[s].kind &&
                a->shelves[s].stand.x == b->shelves[s].stand.x &&
                a->shelves[s].stand.y == b->shelves[s].stand.y &&
                a->shelves[s].stand.turn_deg == b->shelves[s].stand.turn_deg;
    return alike;
}

/* All ways of shelving the column: a support for each bay, all of one thickness. */
static void list_shelvings(const ks_furniture *furniture, const ks_post_places *places,
                           ks_column *column, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    int room = 0;
    int *pick = KS_TAKE(arena, column->n_bays, int);
    for (bool more = true; more;) {
        bool fits = true;
        for (int b = 0; b < column->n_bays && fits; b++) {
            const ks_bay *bay = &kiln->bays[column->bays[b]];
            const ks_support *s = &bay->supports[pick[b]];
            fits = is_usable(furniture, places, column->bays[b], pick[b], arena) &&
                   is_even(kiln, s) &&
                   thickness_of(kiln, s) ==
                       thickness_of(kiln, &kiln->bays[column->bays[0]].supports[pick[0]]);
            for (int before = 0; before < pick[b] && fits; before++)
                fits = !(shelved_alike(s, &bay->supports[before]) &&
                         is_usable(furniture, places, column->bays[b], before, arena));
        }
        if (fits) {
            column->ways = KS_GROW(arena, column->ways, column->n_ways, &room, struct ks_shelving);
            struct ks_shelving *way = &column->ways[column->n_ways++];
            way->supports = KS_TAKE(arena, column->n_bays, int);
            for (int b = 0; b < column->n_bays; b++)
                way->supports[b] = pick[b];
            way->thickness = thickness_of(kiln, &kiln->bays[column->bays[0]].supports[pick[0]]);
        }
        int b = 0;
        while (b < column->n_bays && ++pick[b] >= kiln->bays[column->bays[b]].n_supports)
            pick[b++] = 0;
        more = b < column->n_bays;
    }
}

/* Joins bays that share a post; `label` gives each bay of the arrangement its column. */
static void join_bays(const ks_furniture *furniture, const ks_arrangement *up,
                      const ks_post_places *places, int *label, ks_arena *arena)
{
    for (int b = 0; b < up->n_bays; b++)
        label[b] = b;
    for (int i = 0; i < places->n; i++)
        for (int b = 0, first = -1; b < up->n_bays; b++) {
            if (!ks_bay_meets_post(furniture, up->bays[b], places->at[i], arena))
                continue;
            if (first < 0) {
                first = b;
                continue;
            }
            int from = label[b], to = label[first];
            for (int k = 0; k < up->n_bays; k++)
                if (label[k] == from)
                    label[k] = to;
        }
}

static bool make_column(const ks_furniture *furniture, const ks_arrangement *up,
                        const ks_post_places *places, const int *label, int which,
                        ks_column *column, ks_arena *arena)
{
    column->bays = KS_TAKE(arena, up->n_bays, int);
    column->posts = KS_TAKE(arena, places->n, int);
    for (int b = 0; b < up->n_bays; b++) {
        if (label[b] == which)
            column->bays[column->n_bays++] = up->bays[b];
        if (label[b] == which && furniture->kiln->bays[up->bays[b]].n_supports == 0)
            return false;
    }
    for (int i = 0; i < places->n; i++)
        for (int b = 0; b < column->n_bays; b++)
            if (ks_bay_meets_post(furniture, column->bays[b], places->at[i], arena)) {
                column->posts[column->n_posts++] = i;
                break;
            }
    list_shelvings(furniture, places, column, arena);
    ks_column_find_bearing(furniture, places, column, arena);
    return column->n_ways > 0;
}

static bool make_standing(const ks_furniture *furniture, ks_post_layout *standing, ks_arena *arena)
{
    const ks_arrangement *up = &furniture->kiln->arrangements[standing->arrangement];
    const ks_post_places *places = &furniture->places[standing->places];
    int *label = KS_TAKE(arena, up->n_bays, int);
    join_bays(furniture, up, places, label, arena);
    for (int b = 0; b < up->n_bays && standing->in_step; b++)
        label[b] = 0;
    standing->columns = KS_TAKE(arena, up->n_bays, ks_column);
    for (int b = 0; b < up->n_bays; b++) {
        if (label[b] != b)
            continue;
        if (!make_column(furniture, up, places, label, b, &standing->columns[standing->n_columns++],
                         arena))
            return false;
    }
    ks_layout_find_posts_barred(furniture, standing, arena);
    return standing->n_columns > 0;
}

static void find_insets(ks_furniture *furniture, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    furniture->inset_mm = KS_TAKE(arena, kiln->n_bays, double *);
    for (int b = 0; b < kiln->n_bays; b++) {
        furniture->inset_mm[b] = KS_TAKE(arena, kiln->bays[b].n_supports, double);
        for (int i = 0; i < kiln->bays[b].n_supports; i++) {
            const ks_support *support = &kiln->bays[b].supports[i];
            ks_outline *shelves = KS_TAKE(arena, support->n_shelves, ks_outline);
            for (int s = 0; s < support->n_shelves; s++)
                shelves[s] = ks_shelf_lay(kiln, support, s, arena);
            furniture->inset_mm[b][i] = ks_seam_inset_mm(shelves, support->n_shelves, arena);
        }
    }
}

static void bar(ks_barred *barred, double from, double to)
{
    barred->from[barred->n] = ks_um_of(from);
    barred->to[barred->n++] = ks_um_of(to);
}

static void bar_shelf(const ks_kiln *kiln, const ks_support *support, int s, ks_barred *barred,
                      ks_arena *arena)
{
    ks_outline shelf = ks_shelf_lay(kiln, support, s, arena);
    double thick = kiln->shelves[support->shelves[s].kind].thickness_mm;
    for (int i = 0; i < kiln->n_parts; i++)
        if (ks_outline_inside(&shelf, &kiln->parts[i].outline) < 0)
            bar(barred, kiln->parts[i].from_mm, kiln->parts[i].to_mm + thick);
    for (int i = 0; i < kiln->n_keep_outs; i++) {
        const ks_keep_out *out = &kiln->keep_outs[i];
        if (ks_outline_distance(&shelf, &out->outline) < out->clearance_mm)
            bar(barred, out->from_mm - out->clearance_mm, out->to_mm + out->clearance_mm + thick);
    }
}

static void find_barred(ks_furniture *furniture, ks_arena *arena)
{
    const ks_kiln *kiln = furniture->kiln;
    furniture->barred = KS_TAKE(arena, kiln->n_bays, ks_barred *);
    for (int b = 0; b < kiln->n_bays; b++) {
        furniture->barred[b] = KS_TAKE(arena, kiln->bays[b].n_supports, ks_barred);
        for (int i = 0; i < kiln->bays[b].n_supports; i++) {
            const ks_support *support = &kiln->bays[b].supports[i];
            int most = support->n_shelves * (kiln->n_parts + kiln->n_keep_outs);
            ks_barred *barred = &furniture->barred[b][i];
            barred->from = KS_TAKE(arena, most, ks_um);
            barred->to = KS_TAKE(arena, most, ks_um);
            for (int s = 0; s < support->n_shelves; s++)
                bar_shelf(kiln, support, s, barred, arena);
        }
    }
}

bool ks_support_lies(const ks_furniture *furniture, int bay, int support, ks_um low, ks_um high)
{
    const ks_barred *barred = &furniture->barred[bay][support];
    for (int i = 0; i < barred->n; i++)
        if (barred->from[i] < low && high < barred->to[i])
            return false;
    return true;
}

void ks_furniture_init(ks_furniture *furniture, const ks_kiln *kiln, ks_arena *arena)
{
    *furniture = (ks_furniture){.kiln = kiln};
    ks_sections_list(furniture, arena);
    find_widest_post(furniture, arena);
    list_gaps(furniture, arena);
    find_barred(furniture, arena);
    find_insets(furniture, arena);
    list_places(furniture, arena);
    furniture->post_layouts =
        KS_TAKE(arena, 2 * kiln->n_arrangements * (furniture->n_places + 1), ks_post_layout);
    for (int a = 0; a < kiln->n_arrangements; a++)
        for (int p = 0; p < furniture->n_places; p++) {
            ks_post_layout standing = {.arrangement = a, .places = p};
            if (!make_standing(furniture, &standing, arena))
                continue;
            furniture->post_layouts[furniture->n_post_layouts++] = standing;
            if (standing.n_columns == 1)
                continue;
            ks_post_layout joined = {.arrangement = a, .places = p, .in_step = true};
            if (make_standing(furniture, &joined, arena))
                furniture->post_layouts[furniture->n_post_layouts++] = joined;
        }
}
