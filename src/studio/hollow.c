/* A form that nests is cut into bands where its parts decide how deep: first evenly, then at the
 * two bands that meet first when the form is lowered into another like it, until they are thin. */
#include "studio/hollow.h"

#include <math.h>
#include <string.h>

#define EVEN_MM 3.0   /* bands of the first cut */
#define THIN_MM 0.1   /* bands that are not cut again */
#define LEAST_MM 0.05 /* bands that are not made */
enum { EVEN_BANDS = 30 };

typedef struct {
    double from, to, outer, hollow;
} band;

/* Least radius, at a height, of what lies nearer than `wall` to a straight piece of the surface. */
static double edge_at(ks_point a, ks_point b, double wall, double height)
{
    double rise = b.x - a.x, out = b.y - a.y, length = sqrt(rise * rise + out * out);
    double least = INFINITY;
    const ks_point ends[2] = {a, b};
    for (int e = 0; e < 2; e++) {
        double off = height - ends[e].x;
        if (fabs(off) <= wall)
            least = fmin(least, ends[e].y - sqrt(wall * wall - off * off));
    }
    if (rise <= 0)
        return least;
    double along = (height - wall * out / length - a.x) / rise;
    return along >= 0 && along <= 1 ? fmin(least, a.y + out * along - wall * rise / length) : least;
}

static double clamped(double value, double least, double most)
{
    return fmax(least, fmin(value, most));
}

/* The same between two heights: what lies near a straight piece is convex, so that its edge is
 * least as near as may be to where the whole of it is. */
static double edge_between(ks_point a, ks_point b, double wall, double from, double to)
{
    double where = a.y < b.y ? a.x : b.y < a.y ? b.x : clamped(from, a.x, b.x);
    return edge_at(a, b, wall, clamped(where, from, to));
}

double ks_hollow_radius_mm(const ks_hollow_form *form, double from_mm, double to_mm)
{
    double least = INFINITY;
    if (from_mm < form->floor_mm)
        return 0;
    for (int i = 0; i + 1 < form->n; i++)
        least = fmin(least, edge_between(form->profile[i], form->profile[i + 1], form->wall_mm,
                                         from_mm, to_mm));
    return fmax(least, 0);
}

static double outer_between(const ks_hollow_form *form, double from, double to)
{
    double widest = fmax(ks_profile_radius(form->profile, form->n, from),
                         ks_profile_radius(form->profile, form->n, to));
    for (int i = 0; i < form->n; i++)
        if (form->profile[i].x >= from && form->profile[i].x <= to)
            widest = fmax(widest, form->profile[i].y);
    return widest;
}

/* On the grid: outer ones rounded up, inner ones down. */
static band band_of(const ks_hollow_form *form, double from, double to)
{
    return (band){from, to, ceil(outer_between(form, from, to) * 1000 - 1e-6) / 1000,
                  floor(ks_hollow_radius_mm(form, from, to) * 1000 + 1e-6) / 1000};
}

typedef struct {
    const ks_hollow_form *form;
    band at[KS_HOLLOW_BANDS];
    int n;
} cut;

/* Cuts the band that holds a height there, unless that leaves a sliver. */
static bool cut_at(cut *c, double height)
{
    height = round(height * 1000) / 1000;
    int i = 0;
    while (i < c->n && c->at[i].to <= height)
        i++;
    if (i == c->n || c->n == KS_HOLLOW_BANDS || height - c->at[i].from < LEAST_MM ||
        c->at[i].to - height < LEAST_MM)
        return false;
    band whole = c->at[i];
    memmove(&c->at[i + 1], &c->at[i], (size_t)(c->n - i) * sizeof *c->at);
    c->n++;
    c->at[i] = band_of(c->form, whole.from, height);
    c->at[i + 1] = band_of(c->form, height, whole.to);
    return true;
}

/* The bands of the lower and the upper one that meet first; the rise. */
static double first_contact(const cut *c, int *lower, int *upper)
{
    double rise = -INFINITY;
    for (int i = 0; i < c->n; i++)
        for (int k = 0; k < c->n; k++)
            if (c->at[k].outer > c->at[i].hollow && c->at[i].to - c->at[k].from > rise) {
                rise = c->at[i].to - c->at[k].from;
                *lower = i;
                *upper = k;
            }
    return rise;
}

static void refine(cut *c)
{
    int lower = 0, upper = 0;
    while (c->n < KS_HOLLOW_BANDS) {
        first_contact(c, &lower, &upper);
        double low = c->at[lower].to - c->at[lower].from, up = c->at[upper].to - c->at[upper].from;
        const band *thick = &c->at[low >= up ? lower : upper];
        if (fmax(low, up) <= THIN_MM || !cut_at(c, (thick->from + thick->to) / 2))
            return;
    }
}

static bool are_alike(const band *a, const band *b)
{
    return a->outer == b->outer && a->hollow == b->hollow;
}

static void add_merged(const cut *c, ks_part_list *list)
{
    for (int i = 0; i < c->n;) {
        int last = i;
        while (last + 1 < c->n && are_alike(&c->at[last + 1], &c->at[i]))
            last++;
        ks_part_add(list, i == 0 ? KS_PART_FOOT : KS_PART_BODY, c->at[i].from, c->at[last].to,
                    ks_outline_disc(0, 0, fmax(c->at[i].outer, 0.001), list->arena));
        if (c->at[i].hollow > 0)
            list->at[list->n - 1].hollow = ks_outline_disc(0, 0, c->at[i].hollow, list->arena);
        i = last + 1;
    }
}

void ks_hollow_bands(const ks_hollow_form *form, ks_part_list *list)
{
    double top = form->profile[form->n - 1].x, even = fmax(EVEN_MM, top / EVEN_BANDS);
    cut c = {.form = form, .n = 1};
    c.at[0] = band_of(form, 0, top);
    cut_at(&c, KS_FOOT_BAND_MM);
    cut_at(&c, form->floor_mm);
    for (int i = 1; i + 1 < form->n && i < EVEN_BANDS / 2; i++)
        cut_at(&c, form->profile[i].x);
    for (double height = even; height < top; height += even)
        if (height > form->floor_mm)
            cut_at(&c, height);
    refine(&c);
    add_merged(&c, list);
}

void ks_hollow_cone_add(const ks_hollow_cone *room, const ks_outline *body, ks_part_list *list)
{
    enum { STEPS = 12 };
    double from = room->from_mm;
    bool straight = room->low_r_mm >= room->high_r_mm;
    for (int i = 0; i <= STEPS; i++) {
        double share = straight ? (i > 0) : (double)i / STEPS;
        double to = room->floor_mm + (room->to_mm - room->floor_mm) * share;
        double before = straight || i == 0 ? 0 : (double)(i - 1) / STEPS;
        if (to <= from)
            continue;
        ks_part_add(list, KS_PART_BODY, from, to, *body);
        if (i > 0)
            list->at[list->n - 1].hollow = ks_outline_disc(
                0, 0, room->low_r_mm + (room->high_r_mm - room->low_r_mm) * before, list->arena);
        from = to;
    }
}
