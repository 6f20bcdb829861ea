/* A form that nests is cut into bands where its parts decide how deep. A band holds its widest
 * outside and its narrowest inside, so that one form stands too high in another by as much as the
 * inner band and the outer band that meet are thick, both together. Where all forms are cut at the
 * same radii, and at every second of them where coarser, bands begin at the same radius inside and
 * outside, and only the thicker of the two is lost. So the outside and the inside are each cut at
 * round radii, the roundest first, at whichever band loses most against the true form and against
 * the next smaller one of a family. */
#include "studio/forms/hollow.h"

#include <math.h>
#include <string.h>

/* The finest radius, of which others are 2, 4, 8 … times. Bowls nest where they rise twice as fast
 * as they widen, or a little more: there eight of these are a band of just under 1 mm. */
#define ROUND_MM 0.055
#define ROUNDEST_MM (ROUND_MM * 4096)
#define NEAR_MM 0.01 /* radii that differ less are one: heights are on the grid */
#define THIN_MM 0.1  /* a band that loses less is not cut again */
/* Whatever form it meets, a band is hardly thicker than this, or than so much of a tall form. */
#define THICK_MM 4.0
#define THICK_SHARE 0.05
enum { SECTIONS = 500, GAUGES = 2 };
/* Common practice, no source: each bowl of a family is a tenth smaller than the next. */
static const double gauge_scales[GAUGES] = {1, 0.9};

/* A true form by level sections: the widest outside up to there, the least room from there up. */
typedef struct {
    double height[SECTIONS + 1], outer[SECTIONS + 1], hollow[SECTIONS + 1];
} sections;

/* A form of a family, and how high it stands in the form that is cut, and that in it. */
typedef struct {
    sections at;
    double within_mm, around_mm;
} gauge;

/* Between two heights: of the inside what is narrowest counts, of the outside what is widest. */
typedef struct {
    bool inside;
    double from, to, loss;
} cell;

typedef struct {
    const ks_hollow_form *form;
    gauge *gauges;
    int n_cells, n_cuts;
    cell cells[2 * KS_HOLLOW_BANDS + 2];
    double cuts[KS_HOLLOW_BANDS + 1]; /* rising, 0 and the top among them */
} cutting;

static sections sections_of(const ks_hollow_form *form)
{
    sections s;
    double top = form->profile[form->n - 1].x, widest = 0, least = INFINITY;
    for (int i = 0; i <= SECTIONS; i++) {
        s.height[i] = top * i / SECTIONS;
        widest = fmax(widest, ks_form_radius_mm(form, s.height[i], s.height[i]));
        s.outer[i] = widest;
    }
    for (int i = SECTIONS; i >= 0; i--) {
        least = fmin(least, ks_hollow_radius_mm(form, s.height[i], s.height[i]));
        s.hollow[i] = least;
    }
    return s;
}

/* The lowest section that is wider outside; INFINITY = none. */
static double lowest_wider(const sections *s, double radius)
{
    for (int i = 0; i <= SECTIONS; i++)
        if (s->outer[i] > radius)
            return s->height[i];
    return INFINITY;
}

/* The highest section that is narrower inside; 0 = none. */
static double highest_narrower(const sections *s, double radius)
{
    for (int i = SECTIONS; i >= 0; i--)
        if (s->hollow[i] < radius)
            return s->height[i];
    return 0;
}

static double true_rise(const sections *lower, const sections *upper, double floor_mm)
{
    double rise = floor_mm;
    for (int i = 0; i <= SECTIONS; i++)
        if (lower->hollow[i] > 0)
            rise = fmax(rise, lower->height[i] - lowest_wider(upper, lower->hollow[i]));
    return rise;
}

static gauge gauge_of(const ks_hollow_form *form, double scale, ks_arena *arena)
{
    ks_hollow_form like = *form;
    ks_point *profile = KS_TAKE(arena, form->n, ks_point);
    for (int i = 0; i < form->n; i++)
        profile[i] = (ks_point){form->profile[i].x * scale, form->profile[i].y * scale};
    like.profile = profile;
    sections own = sections_of(form), at = sections_of(&like);
    return (gauge){at, true_rise(&own, &at, form->floor_mm), true_rise(&at, &own, form->floor_mm)};
}

/* By how much too high the band makes a form stand that meets it. */
static double loss_of(const cutting *c, bool inside, double from, double to)
{
    double top = c->form->profile[c->form->n - 1].x;
    double loss = to - from - fmax(THICK_MM, THICK_SHARE * top);
    double radius = inside ? ks_hollow_radius_mm(c->form, fmax(from, c->form->floor_mm), to)
                           : ks_form_radius_mm(c->form, from, to);
    for (int g = 0; g < GAUGES; g++) {
        const gauge *by = &c->gauges[g];
        loss = fmax(loss, inside ? to - lowest_wider(&by->at, radius) - by->within_mm
                                 : highest_narrower(&by->at, radius) - from - by->around_mm);
    }
    return loss;
}

static double radius_at(const cutting *c, bool inside, double height)
{
    return inside ? ks_hollow_radius_mm(c->form, height, height)
                  : ks_profile_radius(c->form->profile, c->form->n, height);
}

/* Where the radius is so, on the grid, so that a band begins with no less inside and ends with no
 * more outside. */
static double height_of(const cutting *c, const cell *of, double radius)
{
    double narrow = of->from, wide = of->to;
    if (radius_at(c, of->inside, narrow) > radius_at(c, of->inside, wide))
        narrow = of->to, wide = of->from;
    while (fabs(wide - narrow) > 1e-7) {
        double middle = (narrow + wide) / 2;
        if (radius_at(c, of->inside, middle) < radius)
            narrow = middle;
        else
            wide = middle;
    }
    bool up = (wide > narrow) == of->inside;
    return up ? ceil(wide * 1000 - 1e-3) / 1000 : floor(narrow * 1000 + 1e-3) / 1000;
}

/* Where the form turns in or out between the ends of a cell; 0 = nowhere. */
static double turn_of(const cutting *c, const cell *of)
{
    const ks_point *at = c->form->profile;
    for (int i = 1; i + 1 < c->form->n; i++)
        if ((at[i].y - at[i - 1].y) * (at[i + 1].y - at[i].y) < 0 && at[i].x > of->from &&
            at[i].x < of->to)
            return at[i].x;
    return 0;
}

/* Where it turns, else at the roundest radius that it holds; 0 = nowhere. */
static double cut_of(const cutting *c, const cell *of)
{
    double turn = turn_of(c, of);
    if (turn > 0)
        return turn;
    double widest = fmax(radius_at(c, of->inside, of->from), radius_at(c, of->inside, of->to));
    double least = fmin(radius_at(c, of->inside, of->from), radius_at(c, of->inside, of->to));
    for (double step = ROUNDEST_MM; step > ROUND_MM / 2; step /= 2) {
        double radius = (ceil((widest - NEAR_MM) / step) - 1) * step;
        double height = radius > least + NEAR_MM ? height_of(c, of, radius) : 0;
        if (height > of->from && height < of->to)
            return height;
    }
    return 0;
}

static void add_cut(cutting *c, double height)
{
    int i = c->n_cuts;
    while (i > 0 && c->cuts[i - 1] >= height)
        i--;
    if (i < c->n_cuts && c->cuts[i] == height)
        return;
    memmove(&c->cuts[i + 1], &c->cuts[i], (size_t)(c->n_cuts - i) * sizeof *c->cuts);
    c->cuts[i] = height;
    c->n_cuts++;
}

static cell cell_of(const cutting *c, bool inside, double from, double to)
{
    return (cell){inside, from, to, loss_of(c, inside, from, to)};
}

/* Cuts the cell that loses most; false when none needs it or can be. */
static bool cut_worst(cutting *c)
{
    cell *worst = NULL;
    for (int i = 0; i < c->n_cells; i++)
        if (c->cells[i].loss > THIN_MM && (!worst || c->cells[i].loss > worst->loss))
            worst = &c->cells[i];
    if (!worst || c->n_cuts > KS_HOLLOW_BANDS)
        return false;
    double height = cut_of(c, worst);
    if (height == 0) {
        worst->loss = 0;
        return true;
    }
    add_cut(c, height);
    c->cells[c->n_cells++] = cell_of(c, worst->inside, height, worst->to);
    *worst = cell_of(c, worst->inside, worst->from, height);
    return true;
}

/* On the grid: outer ones rounded up, inner ones down. Those alike become one. */
static void add_bands(const cutting *c, ks_part_list *list)
{
    for (int i = 0; i + 1 < c->n_cuts; i++) {
        double from = c->cuts[i], to = c->cuts[i + 1];
        double outer = ceil(ks_form_radius_mm(c->form, from, to) * 1000 - 1e-6) / 1000;
        double hollow = floor(ks_hollow_radius_mm(c->form, from, to) * 1000 + 1e-6) / 1000;
        ks_part *last = i > 0 ? &list->at[list->n - 1] : NULL;
        if (last && last->outline.round == outer && last->hollow.round == hollow) {
            last->to_mm = to;
            continue;
        }
        ks_part_add(list, i == 0 ? KS_PART_FOOT : KS_PART_BODY, from, to,
                    ks_outline_disc(0, 0, fmax(outer, 0.001), list->arena));
        if (hollow > 0)
            list->at[list->n - 1].hollow = ks_outline_disc(0, 0, hollow, list->arena);
    }
}

void ks_hollow_bands(const ks_hollow_form *form, ks_part_list *list)
{
    double top = form->profile[form->n - 1].x, floor_mm = round(form->floor_mm * 1000) / 1000;
    ks_arena scratch = {0};
    cutting *c = KS_TAKE(&scratch, 1, cutting);
    c->form = form;
    c->gauges = KS_TAKE(&scratch, GAUGES, gauge);
    for (int g = 0; g < GAUGES; g++)
        c->gauges[g] = gauge_of(form, gauge_scales[g], &scratch);
    const double sure[] = {0, top, KS_FOOT_BAND_MM, floor_mm};
    for (int i = 0; i < 4; i++)
        if (sure[i] <= top)
            add_cut(c, sure[i]);
    c->cells[c->n_cells++] = cell_of(c, false, 0, top);
    if (floor_mm < top)
        c->cells[c->n_cells++] = cell_of(c, true, floor_mm, top);
    while (cut_worst(c))
        continue;
    add_bands(c, list);
    ks_arena_finish(&scratch);
}
