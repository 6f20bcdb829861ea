#include "studio/forms/slices.h"

/* A form is cut into so many blocks, or into one for each slice where it has more. */
enum { BLOCKS_AIM = 20, WIDTHS_MOST = 40 };

/* Ovals have few corners: they lie around the true one by no more than this, far less than a tape
 * may be out. */
#define OVAL_ERROR_MM 0.5

static ks_box across(double width, double depth)
{
    return (ks_box){-width / 2, -depth / 2, width / 2, depth / 2};
}

/* A row of the table: height, width and depth. */
static bool read_row(ks_reading *reading, const ks_json *row, double told[3])
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    if (ks_array_check(row, 2, 3, err) != KS_OK)
        return false;
    told[0] = ks_length_read(&row->items[0], 0, 5000, &reading->fields);
    told[1] = ks_length_read(&row->items[1], 0.1, 5000, &reading->fields);
    told[2] = row->n > 2 ? ks_length_read(&row->items[2], 0.1, 5000, &reading->fields) : told[1];
    return err->count == before;
}

bool ks_slices_of_widths(ks_reading *reading, const ks_json *node, ks_slices *out)
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    double last[3] = {0}, told[3];
    if (ks_array_check(node, 2, WIDTHS_MOST, err) != KS_OK)
        return false;
    *out = (ks_slices){0, KS_TAKE(reading->fields.arena, node->n, ks_slice)};
    for (int i = 0; i < node->n && read_row(reading, &node->items[i], told); i++) {
        if (i == 0 && told[0] > 0)
            ks_json_fail(&node->items[i], err,
                         "found a height of %g mm; the first is 0, at the foot", told[0]);
        if (told[0] < last[0])
            ks_json_fail(&node->items[i], err, "found a height of %g mm after %g; heights rise",
                         told[0], last[0]);
        if (i > 0 && told[0] > last[0])
            out->at[out->n++] =
                (ks_slice){last[0], told[0], across(last[1], last[2]), across(told[1], told[2])};
        for (int k = 0; k < 3; k++)
            last[k] = told[k];
    }
    if (err->count == before && ks_slices_height_mm(out) < 1)
        ks_json_fail(node, err, "found a height of %g mm in all; at least 1 mm is needed",
                     ks_slices_height_mm(out));
    return err->count == before;
}

double ks_slices_height_mm(const ks_slices *slices)
{
    return slices->n > 0 ? slices->at[slices->n - 1].high_mm : 0;
}

static double between(double a, double b, double part)
{
    return a + part * (b - a);
}

static ks_box box_at(const ks_slice *slice, double part)
{
    const ks_box *a = &slice->low, *b = &slice->high;
    return (ks_box){between(a->x0, b->x0, part), between(a->y0, b->y0, part),
                    between(a->x1, b->x1, part), between(a->y1, b->y1, part)};
}

static ks_box both(ks_box a, ks_box b)
{
    return (ks_box){fmin(a.x0, b.x0), fmin(a.y0, b.y0), fmax(a.x1, b.x1), fmax(a.y1, b.y1)};
}

static ks_outline seen_from_above(ks_box box, bool square, ks_arena *arena)
{
    double x = (box.x0 + box.x1) / 2, y = (box.y0 + box.y1) / 2;
    double width = box.x1 - box.x0, depth = box.y1 - box.y0;
    if (!square) {
        ks_outline oval = ks_outline_ellipse(x, y, width / 2, depth / 2, true, arena);
        return ks_outline_simplified(&oval, OVAL_ERROR_MM, true, arena);
    }
    ks_outline middle = ks_outline_rectangle(width, depth, 0, arena);
    return ks_outline_place(&middle, (ks_stand){x, y, 0}, arena);
}

/* By how much its sides lean out or in. */
static double leaning_mm(const ks_slice *slice)
{
    const ks_box *a = &slice->low, *b = &slice->high;
    return fmax(fmax(fabs(a->x0 - b->x0), fabs(a->x1 - b->x1)),
                fmax(fabs(a->y0 - b->y0), fabs(a->y1 - b->y1)));
}

/* How many blocks all slices are cut into when none leans by more than `error_mm` within one. */
static int blocks_of(const ks_slices *slices, double error_mm)
{
    int n = 0;
    for (int i = 0; i < slices->n; i++)
        n += (int)fmax(1, ceil(leaning_mm(&slices->at[i]) / error_mm));
    return n;
}

void ks_slices_add(const ks_slices *slices, bool square, ks_part_list *list)
{
    double error = KS_BAND_ERROR_MM;
    while (blocks_of(slices, error) > fmax(BLOCKS_AIM, slices->n))
        error *= 1.25;
    double foot_mm = fmin(KS_FOOT_BAND_MM, slices->at[0].high_mm / 2);
    ks_part_add(list, KS_PART_FOOT, 0, foot_mm,
                seen_from_above(slices->at[0].low, square, list->arena));
    for (int i = 0; i < slices->n; i++) {
        const ks_slice *slice = &slices->at[i];
        int n = (int)fmax(1, ceil(leaning_mm(slice) / error));
        for (int k = 0; k < n; k++) {
            double from = between(slice->low_mm, slice->high_mm, (double)k / n);
            double to = between(slice->low_mm, slice->high_mm, (double)(k + 1) / n);
            ks_box box = both(box_at(slice, (double)k / n), box_at(slice, (double)(k + 1) / n));
            ks_part_add(list, KS_PART_BODY, fmax(from, foot_mm), fmax(to, 2 * foot_mm),
                        seen_from_above(box, square, list->arena));
        }
    }
}
