#include "studio/parts.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

/* Heights and greatest radii of bands from below. */
typedef struct {
    double to, least, greatest;
} band;

typedef struct {
    double error;
    int n; /* may go beyond KS_MOST_BANDS: then the bands are of no use */
    band bands[KS_MOST_BANDS];
    double from, least, greatest; /* of the band being widened */
} cutting;

static void widen(cutting *cut, double radius)
{
    if (radius < cut->least)
        cut->least = radius;
    if (radius > cut->greatest)
        cut->greatest = radius;
}

static void close_band(cutting *cut, double to, double next_radius)
{
    if (to > cut->from) {
        if (cut->n < KS_MOST_BANDS)
            cut->bands[cut->n] = (band){to, cut->least, cut->greatest};
        cut->n++;
    }
    cut->from = to;
    cut->least = cut->greatest = next_radius;
}

static void cut_step(cutting *cut, ks_point to)
{
    if (to.y > cut->least + cut->error || to.y < cut->greatest - cut->error)
        close_band(cut, to.x, to.y);
    else
        widen(cut, to.y);
}

static void cut_slope(cutting *cut, ks_point from, ks_point to)
{
    double slope = (to.y - from.y) / (to.x - from.x);
    while (cut->n <= KS_MOST_BANDS) {
        double limit = slope > 0 ? cut->least + cut->error : cut->greatest - cut->error;
        if (slope > 0 ? to.y <= limit : to.y >= limit)
            break;
        widen(cut, limit);
        close_band(cut, from.x + (limit - from.y) / slope, limit);
    }
    widen(cut, to.y);
}

/* Fewest bands in which the radius differs by no more than `error`. */
static cutting cut_profile(const ks_point *profile, int n, double error)
{
    cutting cut = {
        .error = error, .from = profile[0].x, .least = profile[0].y, .greatest = profile[0].y};
    for (int i = 0; i + 1 < n; i++) {
        if (profile[i + 1].x > profile[i].x)
            cut_slope(&cut, profile[i], profile[i + 1]);
        else
            cut_step(&cut, profile[i + 1]);
    }
    close_band(&cut, profile[n - 1].x, 0);
    return cut;
}

static double radius_on(ks_point a, ks_point b, double height)
{
    return b.x > a.x ? a.y + (b.y - a.y) * (height - a.x) / (b.x - a.x) : fmax(a.y, b.y);
}

double ks_profile_radius(const ks_point *profile, int n, double height_mm)
{
    double radius = 0;
    for (int i = 0; i + 1 < n; i++)
        if (profile[i].x <= height_mm && height_mm <= profile[i + 1].x)
            radius = fmax(radius, radius_on(profile[i], profile[i + 1], height_mm));
    return radius;
}

double ks_profile_lateral_mm2(const ks_point *profile, int n)
{
    double area = 0;
    for (int i = 0; i + 1 < n; i++) {
        double rise = profile[i + 1].x - profile[i].x, out = profile[i + 1].y - profile[i].y;
        area += pi * (profile[i].y + profile[i + 1].y) * sqrt(rise * rise + out * out);
    }
    return area;
}

/* The profile from a height up; returns how many points. */
static int profile_above(const ks_point *profile, int n, double height, ks_point *above)
{
    int first = 0;
    while (first + 1 < n && profile[first + 1].x <= height)
        first++;
    above[0] = (ks_point){height, radius_on(profile[first], profile[first + 1], height)};
    memcpy(&above[1], &profile[first + 1], (size_t)(n - first - 1) * sizeof *above);
    return n - first;
}

/* Rounded up to the grid, so that the disc still encloses. */
static ks_outline enclosing_disc(double radius, ks_arena *arena)
{
    double steps = ceil(radius * 1000 - 1e-6);
    return ks_outline_disc(0, 0, fmax(steps, 1) / 1000, arena);
}

static void add_bands(const cutting *cut, double from, ks_part_list *list)
{
    for (int i = 0; i < cut->n; i++) {
        ks_part_add(list, KS_PART_BODY, from, cut->bands[i].to,
                    enclosing_disc(cut->bands[i].greatest, list->arena));
        from = cut->bands[i].to;
    }
}

void ks_profile_bands(const ks_point *profile, int n, ks_part_list *list)
{
    cutting cut = cut_profile(profile, n, KS_BAND_ERROR_MM);
    if (cut.n == 1) {
        add_bands(&cut, 0, list);
        return;
    }
    double foot = fmax(fmin(cut.bands[0].to, KS_FOOT_BAND_MM), 0.05);
    ks_point *above = KS_TAKE(list->arena, n + 1, ks_point);
    int n_above = profile_above(profile, n, foot, above);
    double radius = fmax(cut.bands[0].greatest, above[0].y);
    ks_part_add(list, KS_PART_FOOT, 0, foot, enclosing_disc(radius, list->arena));
    for (double error = KS_BAND_ERROR_MM;; error *= 1.25) {
        cut = cut_profile(above, n_above, error);
        if (cut.n < KS_MOST_BANDS)
            break;
    }
    add_bands(&cut, foot, list);
}
