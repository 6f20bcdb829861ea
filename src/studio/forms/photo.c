/* A form's outline in a photograph, beside a stick of known length. */
#include "studio/forms/slices.h"

#include "shape/plane.h"

#include <stdlib.h>

enum { POINTS_LEAST = 3, POINTS_MOST = 40 };

/* An outline upright on its foot: x along the foot from its middle, y above it, mm. */
typedef struct {
    int n;
    ks_point *at;
} silhouette;

typedef struct {
    double stick_mm;
} photo_entry;

static const ks_field photo_fields[] = {
    KS_FIELD(LENGTH, photo_entry, stick_mm, "stick", .required = true, .least = 10, .most = 5000),
    KS_FIELD_KNOWN("ends"),
    KS_FIELD_KNOWN("points"),
};

/* Numbers as the picture has them. */
static ks_point *read_points(ks_reading *reading, const ks_json *photo, const char *key, int least,
                             int most, int *n)
{
    static const ks_field number = {.kind = KS_FIELD_NUMBER, .least = -1e6, .most = 1e6};
    ks_error *err = reading->fields.err;
    const ks_json *node = ks_json_get(photo, key);
    if (!node) {
        ks_json_lacks(photo, key, err, "places in the picture, as [[x, y], ...]");
        return NULL;
    }
    if (ks_array_check(node, least, most, err) != KS_OK)
        return NULL;
    ks_point *at = KS_TAKE(reading->fields.arena, node->n, ks_point);
    for (int i = 0; i < node->n; i++) {
        const ks_json *pair = &node->items[i];
        if (ks_array_check(pair, 2, 2, err) != KS_OK ||
            ks_field_value(&pair->items[0], &number, &reading->fields, &at[i].x) != KS_OK ||
            ks_field_value(&pair->items[1], &number, &reading->fields, &at[i].y) != KS_OK)
            return NULL;
    }
    *n = node->n;
    return at;
}

static double apart(ks_point a, ks_point b)
{
    return length(minus(b, a));
}

/* From the picture's axes to those of the foot, the line from the first point to the last; it
 * stands on the side on which the others lie, whichever way the picture's y goes. */
static void stand_upright(ks_point *at, int n, double mm_each)
{
    ks_point left = at[0], right = at[n - 1];
    double wide = apart(left, right), c = (right.x - left.x) / wide, s = (right.y - left.y) / wide;
    double sum = 0;
    for (int i = 0; i < n; i++) {
        double x = at[i].x - left.x, y = at[i].y - left.y;
        at[i] = (ks_point){(c * x + s * y - wide / 2) * mm_each, (c * y - s * x) * mm_each};
        sum += at[i].y;
    }
    for (int i = 0; i < n; i++)
        at[i].y = i == 0 || i == n - 1 ? 0 : sum < 0 ? -at[i].y : at[i].y;
}

static double top_of(const silhouette *form)
{
    double top = 0;
    for (int i = 0; i < form->n; i++)
        top = fmax(top, form->at[i].y);
    return top;
}

static bool is_outline(ks_reading *reading, const ks_json *node, const silhouette *form)
{
    ks_error *err = reading->fields.err;
    for (int i = 0; i < form->n; i++)
        if (form->at[i].y < -1) {
            ks_json_fail(&ks_json_get(node, "points")->items[i], err,
                         "found it %.4g mm below the foot, the line from the first point to the "
                         "last; go from one end of the foot over the top to the other",
                         -form->at[i].y);
            return false;
        }
    if (top_of(form) < 1)
        ks_json_fail(node, err, "found a height of %g mm in all; at least 1 mm is needed",
                     top_of(form));
    return top_of(form) >= 1;
}

static bool read_photo(ks_reading *reading, const ks_json *node, silhouette *out)
{
    ks_error *err = reading->fields.err;
    photo_entry entry = {0};
    int n = 0, n_ends = 0;
    if (KS_FIELDS_READ(node, photo_fields, &reading->fields, &entry) != KS_OK)
        return false;
    ks_point *ends = read_points(reading, node, "ends", 2, 2, &n_ends);
    ks_point *at = read_points(reading, node, "points", POINTS_LEAST, POINTS_MOST, &n);
    if (!ends || !at)
        return false;
    double stick = apart(ends[0], ends[1]);
    if (!(stick > 0) || !(apart(at[0], at[n - 1]) > 0)) {
        ks_json_fail(node, err,
                     "found two ends of the stick, or of the foot, in one place; each has two");
        return false;
    }
    stand_upright(at, n, entry.stick_mm / stick);
    *out = (silhouette){n, at};
    return is_outline(reading, node, out);
}

/* How far it reaches at a height, coming from just inside of the slice around `within`. */
static void reach_at(const silhouette *form, double height, double within, double *least,
                     double *most)
{
    *least = INFINITY;
    *most = -INFINITY;
    for (int i = 0; i < form->n; i++) {
        ks_point a = form->at[i], b = form->at[(i + 1) % form->n];
        if ((a.y <= within) == (b.y <= within))
            continue;
        double x = a.x + (b.x - a.x) * (height - a.y) / (b.y - a.y);
        *least = fmin(*least, x);
        *most = fmax(*most, x);
    }
}

static int by_height(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static int list_heights(const silhouette *front, const silhouette *side, double *heights)
{
    int n = 0, kept = 1;
    for (int i = 0; i < front->n; i++)
        heights[n++] = fmax(0, front->at[i].y);
    for (int i = 0; i < side->n; i++)
        heights[n++] = fmin(fmax(0, side->at[i].y), top_of(front));
    qsort(heights, (size_t)n, sizeof *heights, by_height);
    for (int i = 1; i < n; i++)
        if (heights[i] > heights[kept - 1] + 0.01)
            heights[kept++] = heights[i];
    return kept;
}

static double widest_of(const silhouette *form)
{
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < form->n; i++) {
        least = fmin(least, form->at[i].x);
        most = fmax(most, form->at[i].x);
    }
    return most - least;
}

static ks_box box_at(const silhouette *front, const silhouette *side, double height, double within,
                     double deep_part)
{
    ks_box box;
    reach_at(front, height, within, &box.x0, &box.x1);
    double deep = deep_part * (box.x1 - box.x0);
    box.y0 = -deep / 2;
    box.y1 = deep / 2;
    if (side->n > 0)
        reach_at(side, height, within, &box.y0, &box.y1);
    return box;
}

/* Both show one height, but for what a lens does to it: the side's is made the front's. */
static bool heights_agree(ks_reading *reading, const ks_json *node, const silhouette *front,
                          silhouette *side)
{
    double factor = top_of(front) / top_of(side);
    if (fabs(factor - 1) > 0.1) {
        ks_json_fail(node, reading->fields.err,
                     "found a form %.4g mm high from the side and %.4g mm from the front; both "
                     "photographs show one height: hold the stick beside the form, as far away",
                     top_of(side), top_of(front));
        return false;
    }
    for (int i = 0; i < side->n; i++)
        side->at[i].y *= factor;
    return true;
}

bool ks_slices_of_photos(ks_reading *reading, const ks_json *front_node, const ks_json *side_node,
                         double deep_mm, ks_slices *out)
{
    silhouette front = {0}, side = {0};
    if (!read_photo(reading, front_node, &front) ||
        (side_node && (!read_photo(reading, side_node, &side) ||
                       !heights_agree(reading, side_node, &front, &side))))
        return false;
    double *heights = KS_TAKE(reading->fields.arena, front.n + side.n, double);
    int n = list_heights(&front, &side, heights);
    double deep_part = isnan(deep_mm) ? 1 : deep_mm / widest_of(&front);
    *out = (ks_slices){n - 1, KS_TAKE(reading->fields.arena, n, ks_slice)};
    for (int i = 0; i + 1 < n; i++) {
        double within = (heights[i] + heights[i + 1]) / 2;
        out->at[i] = (ks_slice){heights[i], heights[i + 1],
                                box_at(&front, &side, heights[i], within, deep_part),
                                box_at(&front, &side, heights[i + 1], within, deep_part)};
    }
    return true;
}
