#include "studio/forms/hollow.h"
#include "studio/names.h"
#include "studio/parts.h"
#include "studio/stacked.h"
#include "studio/files/piece_file.h"
#include "studio/files/plan_file.h"
#include "studio/forms/slices.h"

#include <string.h>

static const ks_field part_fields[] = {
    KS_FIELD(WORD, ks_part, kind, "kind", .words = KS_PART_KIND_WORDS),
    KS_FIELD(LENGTH, ks_part, from_mm, "from", .required = true, .most = 5000),
    KS_FIELD(LENGTH, ks_part, to_mm, "to", .required = true, .most = 5000),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD_KNOWN("hollow"),
};

void ks_part_read(ks_reading *reading, const ks_json *node, void *into)
{
    ks_part *part = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    part->kind = KS_PART_BODY;
    KS_FIELDS_READ(node, part_fields, &reading->fields, part);
    const ks_json *outline = ks_json_get(node, "outline");
    if (outline)
        ks_outline_read(outline, true, &reading->fields, &part->outline);
    else if (node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "outline", err, "the part seen from above");
    const ks_json *hollow = ks_json_get(node, "hollow");
    if (hollow && ks_outline_read(hollow, false, &reading->fields, &part->hollow) && outline &&
        ks_outline_inside(&part->hollow, &part->outline) < -KS_GRID)
        ks_json_fail(hollow, err, "found a hollow that reaches beyond the part's outline");
    if (err->count == before && part->to_mm <= part->from_mm)
        ks_json_fail(node, err, "found it from %g to %g mm; \"to\" must be above \"from\"",
                     part->from_mm, part->to_mm);
}

#define TOUCHES_MM 0.1 /* "33.83 cm" and 13.321 in are meant to be one height */

/* The highest that is reached from the floor without a gap between parts. */
static double reached_mm(const ks_part_list *list)
{
    double reached = 0, before;
    do {
        before = reached;
        for (int i = 0; i < list->n; i++)
            if (list->at[i].from_mm <= reached + TOUCHES_MM)
                reached = fmax(reached, list->at[i].to_mm);
    } while (reached > before);
    return reached;
}

/* Where the part above that gap starts; 0 = there is none. */
static double next_above_mm(const ks_part_list *list, double gap_mm)
{
    double next = INFINITY;
    for (int i = 0; i < list->n; i++)
        if (list->at[i].from_mm > gap_mm + TOUCHES_MM)
            next = fmin(next, list->at[i].from_mm);
    return isfinite(next) ? next : 0;
}

static void refuse_gap(ks_reading *reading, const ks_json *node, const ks_part_list *list)
{
    double gap_mm = reached_mm(list), next_mm = next_above_mm(list, gap_mm);
    if (next_mm > 0)
        ks_json_fail(node, reading->fields.err,
                     "found no part between %g and %g mm; what is above would hang in the air: "
                     "parts follow one on the other",
                     gap_mm, next_mm);
}

static bool build_parts(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    const ks_json *node = ks_json_get(entry->node, "parts");
    int before = reading->fields.err->count;
    list->at = ks_list_read(reading, node, KS_MOST_PARTS, sizeof(ks_part), ks_part_read, &list->n);
    list->room = list->n;
    if (reading->fields.err->count > before)
        return false;
    double lowest = INFINITY;
    int own = 0;
    for (int i = 0; i < list->n; i++) {
        lowest = fmin(lowest, list->at[i].from_mm);
        own += !ks_part_of_setter(list->at[i].kind);
        entry->lateral_mm2 += ks_part_of_setter(list->at[i].kind)
                                  ? 0
                                  : ks_outline_perimeter_mm(&list->at[i].outline) *
                                        (list->at[i].to_mm - list->at[i].from_mm);
    }
    if (own == 0)
        ks_json_fail(node, reading->fields.err, "found no foot or body among its %d parts",
                     list->n);
    else if (lowest > 0)
        ks_json_fail(node, reading->fields.err,
                     "the lowest part starts at %g mm; what stands starts at 0", lowest);
    else
        refuse_gap(reading, node, list);
    return reading->fields.err->count == before;
}

static bool read_profile_points(ks_reading *reading, const ks_json *node, ks_point *points)
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    if (ks_array_check(node, 2, KS_MOST_VERTICES, err) != KS_OK)
        return false;
    for (int i = 0; i < node->n; i++) {
        if (!ks_point_read(&node->items[i], &reading->fields, &points[i]))
            continue;
        if (points[i].y < 0)
            ks_json_fail(&node->items[i], err, "found a radius of %g mm; it cannot be less than 0",
                         points[i].y);
        if (i == 0 && points[i].x != 0)
            ks_json_fail(&node->items[i], err,
                         "found a height of %g mm; the first is 0, at the foot", points[i].x);
        if (i > 0 && points[i].x < points[i - 1].x)
            ks_json_fail(&node->items[i], err, "found a height of %g mm after %g; heights rise",
                         points[i].x, points[i - 1].x);
    }
    if (err->count == before && points[node->n - 1].x < 1)
        ks_json_fail(node, err, "found a height of %g mm in all; at least 1 mm is needed",
                     points[node->n - 1].x);
    return err->count == before;
}

/* A size told beside the profile must be the profile's own. */
static void size_agrees(ks_reading *reading, const ks_json *piece, const char *key, double told,
                        double own)
{
    if (!isnan(told) && fabs(told - own) > 1)
        ks_json_fail(ks_json_get(piece, key), reading->fields.err,
                     "found %.4g mm, but by its profile it is %.4g mm; leave one of them out", told,
                     own);
}

static bool build_profile(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    const ks_json *node = ks_json_get(entry->node, "profile");
    int before = reading->fields.err->count;
    ks_point *points = KS_TAKE(list->arena, node->n + 1, ks_point);
    if (!read_profile_points(reading, node, points))
        return false;
    double widest = 0;
    for (int i = 0; i < node->n; i++)
        widest = fmax(widest, points[i].y);
    if (widest < 1)
        ks_json_fail(node, reading->fields.err, "no radius reaches 1 mm");
    size_agrees(reading, entry->node, "height", entry->height_mm, points[node->n - 1].x);
    size_agrees(reading, entry->node, "diameter", entry->diameter_mm, 2 * widest);
    if (reading->fields.err->count > before)
        return false;
    if (ks_inside_is_wanted(entry)) {
        ks_hollow_form form = {.profile = points, .n = node->n};
        ks_inside_take(reading, entry, 2 * widest, &form.wall_mm, &form.floor_mm);
        ks_hollow_bands(&form, list);
    } else {
        ks_profile_bands(points, node->n, list);
    }
    entry->lateral_mm2 = ks_profile_lateral_mm2(points, node->n);
    entry->base_mm2 = 3.14159265358979 * points[0].y * points[0].y;
    return true;
}

/* A photograph's scale is that of the stick: what is nearer or farther seems larger or smaller
 * (common practice, no source). */
#define PHOTO_PART 0.03

static bool build_slices(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    const ks_json *photo = ks_json_get(entry->node, "photo");
    const ks_json *side = ks_json_get(entry->node, "photo_side");
    ks_slices slices;
    int before = reading->fields.err->count;
    if (photo ? !ks_slices_of_photos(reading, photo, side, entry->depth_mm, &slices)
              : !ks_slices_of_widths(reading, ks_json_get(entry->node, "widths"), &slices))
        return false;
    size_agrees(reading, entry->node, "height", entry->height_mm, ks_slices_height_mm(&slices));
    if (photo && !side && isnan(entry->depth_mm))
        ks_default_note(&entry->piece.defaults, "depth", list->arena);
    if (photo)
        entry->piece.tape_part = PHOTO_PART;
    ks_slices_add(&slices, entry->square, list);
    for (int i = 0; i < list->n; i++)
        entry->lateral_mm2 += ks_outline_perimeter_mm(&list->at[i].outline) *
                              (list->at[i].to_mm - list->at[i].from_mm);
    entry->base_mm2 = ks_outline_area(&list->at[0].outline);
    return reading->fields.err->count == before;
}

/* The outline of the whole height, of a piece given by its plan. */
static bool plan_outline(ks_reading *reading, ks_piece_entry *entry, ks_outline *out)
{
    const ks_json *outline = ks_json_get(entry->node, "outline");
    ks_arena *arena = reading->fields.arena;
    if (outline)
        return ks_outline_read(outline, true, &reading->fields, out);
    if (!isnan(entry->diameter_mm)) {
        *out = ks_outline_disc(0, 0, entry->diameter_mm / 2, arena);
        return true;
    }
    double corner = isnan(entry->corner_mm) ? 0 : entry->corner_mm;
    double most = fmin(entry->width_mm, entry->depth_mm) / 2;
    if (corner > most) {
        ks_json_fail(ks_json_get(entry->node, "corner"), reading->fields.err,
                     "found a corner of %g mm radius; at most %g mm goes into %g x %g mm", corner,
                     most, entry->width_mm, entry->depth_mm);
        return false;
    }
    *out = ks_outline_rectangle(entry->width_mm, entry->depth_mm, corner, arena);
    return true;
}

/* "foot" is a diameter or an outline; the body's own where it is not told. */
static bool foot_outline(ks_reading *reading, const ks_piece_entry *entry, ks_outline *out)
{
    const ks_json *foot = ks_json_get(entry->node, "foot");
    if (foot->kind == KS_JSON_OBJECT)
        return ks_outline_read(foot, true, &reading->fields, out);
    double across = ks_length_read(foot, 1, 5000, &reading->fields);
    *out = ks_outline_disc(0, 0, across / 2, reading->fields.arena);
    return across > 0;
}

/* Slips of the unit most of all: a body of 4 in on a foot of 90 mm. */
static bool foot_is_under(ks_reading *reading, const ks_piece_entry *entry, const ks_outline *foot,
                          const ks_outline *body)
{
    ks_box under = ks_outline_box(foot), over = ks_outline_box(body);
    double width = under.x1 - under.x0, depth = under.y1 - under.y0;
    double body_width = over.x1 - over.x0, body_depth = over.y1 - over.y0;
    if (width <= body_width + KS_GRID && depth <= body_depth + KS_GRID)
        return true;
    ks_json_fail(
        ks_json_get(entry->node, "foot"), reading->fields.err,
        "found a foot of %.4g x %.4g mm under a body of %.4g x %.4g mm; a foot is no wider "
        "than its body, whose sizes are those at its widest: check the units",
        width, depth, body_width, body_depth);
    return false;
}

static bool build_plan(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    ks_outline body, foot;
    if (isnan(entry->height_mm)) {
        ks_json_lacks(entry->node, "height", reading->fields.err,
                      "how tall it stands, with its unit if the file declares none");
        return false;
    }
    if (!plan_outline(reading, entry, &body))
        return false;
    double foot_mm = 0;
    if (ks_json_get(entry->node, "foot")) {
        if (!foot_outline(reading, entry, &foot) || !foot_is_under(reading, entry, &foot, &body))
            return false;
        foot_mm = fmin(KS_FOOT_MM, entry->height_mm / 2);
        ks_part_add(list, KS_PART_FOOT, 0, foot_mm, foot);
    }
    if (!ks_inside_add(reading, entry, foot_mm > 0 ? &foot : &body, &body, foot_mm, list))
        ks_part_add(list, KS_PART_BODY, foot_mm, entry->height_mm, body);
    entry->lateral_mm2 = ks_outline_perimeter_mm(&body) * entry->height_mm;
    entry->base_mm2 = ks_outline_area(&body);
    if (entry->height_mm > KS_TILE_MM && !isnan(entry->diameter_mm))
        ks_default_note(&entry->piece.defaults, "profile", list->arena);
    if (entry->height_mm <= KS_TILE_MM && isnan(entry->diameter_mm))
        entry->piece.wall_mm =
            isnan(entry->piece.wall_mm) ? entry->height_mm : entry->piece.wall_mm;
    return true;
}

static const char *const shapes[] = {"diameter", "width", "outline", "profile",
                                     "widths",   "photo", "parts"};
enum { N_SHAPES = sizeof shapes / sizeof shapes[0] };

/* Which shape is told; a diameter may stand beside a profile. NULL after noting what is wrong. */
static const char *tell_shape(const ks_piece_entry *entry, ks_error *err)
{
    const char *told = NULL;
    for (int i = 0; i < N_SHAPES; i++) {
        if (!ks_json_get(entry->node, shapes[i]))
            continue;
        if (told && !(strcmp(told, "diameter") == 0 && strcmp(shapes[i], "profile") == 0)) {
            ks_json_fail(entry->node, err,
                         "found both \"%s\" and \"%s\"; one of them tells the shape", told,
                         shapes[i]);
            return NULL;
        }
        told = shapes[i];
    }
    if (!told)
        ks_json_fail(entry->node, err,
                     "its sizes are missing: \"size\", or \"diameter\" and \"height\", or "
                     "\"width\", \"depth\" and \"height\", or \"profile\", \"widths\", \"photo\", "
                     "\"outline\" or \"parts\"");
    return told;
}

bool ks_shape_build(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    const char *shape = tell_shape(entry, reading->fields.err);
    if (!shape)
        return false;
    if (strcmp(shape, "parts") == 0)
        return build_parts(reading, entry, list);
    if (strcmp(shape, "profile") == 0)
        return build_profile(reading, entry, list);
    if (strcmp(shape, "widths") == 0 || strcmp(shape, "photo") == 0)
        return build_slices(reading, entry, list);
    if (strcmp(shape, "width") == 0 && isnan(entry->depth_mm)) {
        ks_json_lacks(entry->node, "depth", reading->fields.err,
                      "it goes with \"width\"; for round ware tell \"diameter\" in their place");
        return false;
    }
    return build_plan(reading, entry, list);
}
