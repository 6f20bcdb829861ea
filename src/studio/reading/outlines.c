#include "studio/reading/reading.h"

static const char *const outline_keys[] = {"circle",    "polygon", "round",   "ellipse",
                                           "rectangle", "corner",  "regular", "across"};
enum { N_OUTLINE_KEYS = sizeof outline_keys / sizeof outline_keys[0] };

bool ks_point_read(const ks_json *node, const ks_field_reader *reader, ks_point *out)
{
    if (ks_array_check(node, 2, 2, reader->err) != KS_OK)
        return false;
    int before = reader->err->count;
    out->x = ks_length_read(&node->items[0], -KS_LONGEST_MM, KS_LONGEST_MM, reader);
    out->y = ks_length_read(&node->items[1], -KS_LONGEST_MM, KS_LONGEST_MM, reader);
    return reader->err->count == before;
}

/* The lengths of `node`, an array of exactly `n`; the last `positive` of them above 0. */
static bool read_lengths(const ks_json *node, int n, int positive, const ks_field_reader *reader,
                         double *out)
{
    if (ks_array_check(node, n, n, reader->err) != KS_OK)
        return false;
    int before = reader->err->count;
    for (int i = 0; i < n; i++) {
        double least = i >= n - positive ? KS_GRID : -KS_LONGEST_MM;
        out[i] = ks_length_read(&node->items[i], least, KS_LONGEST_MM, reader);
    }
    return reader->err->count == before;
}

static bool read_circle(const ks_json *object, bool around, const ks_field_reader *reader,
                        ks_outline *out)
{
    (void)around;
    double xyr[3];
    if (!read_lengths(ks_json_get(object, "circle"), 3, 1, reader, xyr))
        return false;
    *out = ks_outline_disc(xyr[0], xyr[1], xyr[2], reader->arena);
    return true;
}

static bool read_ellipse(const ks_json *object, bool around, const ks_field_reader *reader,
                         ks_outline *out)
{
    double xyab[4];
    if (!read_lengths(ks_json_get(object, "ellipse"), 4, 2, reader, xyab))
        return false;
    *out = ks_outline_ellipse(xyab[0], xyab[1], xyab[2], xyab[3], around, reader->arena);
    return true;
}

static bool read_rectangle(const ks_json *object, bool around, const ks_field_reader *reader,
                           ks_outline *out)
{
    (void)around;
    double wd[2];
    if (!read_lengths(ks_json_get(object, "rectangle"), 2, 2, reader, wd))
        return false;
    int before = reader->err->count;
    double most = (wd[0] < wd[1] ? wd[0] : wd[1]) / 2;
    double corner = ks_length_read(ks_json_get(object, "corner"), 0, most, reader);
    if (reader->err->count > before)
        return false;
    *out = ks_outline_rectangle(wd[0], wd[1], corner, reader->arena);
    return true;
}

static bool read_regular(const ks_json *object, bool around, const ks_field_reader *reader,
                         ks_outline *out)
{
    (void)around;
    const ks_field sides_field = {.kind = KS_FIELD_WHOLE, .least = 3, .most = KS_MOST_VERTICES};
    const ks_json *across_node = ks_json_get(object, "across");
    int before = reader->err->count, sides = 0;
    if (!across_node)
        ks_json_lacks(object, "across", reader->err, "the width over the flats is needed");
    double across = ks_length_read(across_node, 1, KS_LONGEST_MM, reader);
    ks_field_value(ks_json_get(object, "regular"), &sides_field, reader, &sides);
    if (reader->err->count > before)
        return false;
    *out = ks_outline_regular(sides, across, reader->arena);
    return true;
}

static double signed_area_twice(const ks_point *at, int n)
{
    double sum = 0;
    for (int i = 0; i < n; i++) {
        ks_point a = at[i], b = at[(i + 1) % n];
        sum += a.x * b.y - b.x * a.y;
    }
    return sum;
}

static void put_counter_clockwise(ks_point *at, int n)
{
    if (n < 3 || signed_area_twice(at, n) >= 0)
        return;
    for (int i = 0, j = n - 1; i < j; i++, j--) {
        ks_point kept = at[i];
        at[i] = at[j];
        at[j] = kept;
    }
}

static bool read_polygon(const ks_json *object, bool around, const ks_field_reader *reader,
                         ks_outline *out)
{
    (void)around;
    const ks_json *list = ks_json_get(object, "polygon");
    if (ks_array_check(list, 1, KS_MOST_VERTICES, reader->err) != KS_OK)
        return false;
    int before = reader->err->count;
    ks_point *at = KS_TAKE(reader->arena, list->n, ks_point);
    for (int i = 0; i < list->n; i++)
        ks_point_read(&list->items[i], reader, &at[i]);
    double round = ks_length_read(ks_json_get(object, "round"), 0, KS_LONGEST_MM, reader);
    put_counter_clockwise(at, list->n);
    *out = (ks_outline){list->n, at, round};
    return reader->err->count == before;
}

typedef bool (*kind_reader)(const ks_json *object, bool around, const ks_field_reader *reader,
                            ks_outline *out);

static const struct {
    const char *key;
    kind_reader read;
} kinds[] = {{"circle", read_circle},
             {"polygon", read_polygon},
             {"ellipse", read_ellipse},
             {"rectangle", read_rectangle},
             {"regular", read_regular}};

/* The one kind of outline that the object gives. */
static kind_reader find_kind(const ks_json *node, ks_error *err)
{
    const char *key = NULL;
    kind_reader read = NULL;
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (!ks_json_get(node, kinds[i].key))
            continue;
        if (key) {
            ks_json_fail(node, err, "found both \"%s\" and \"%s\"; an outline is one of them", key,
                         kinds[i].key);
            return NULL;
        }
        key = kinds[i].key;
        read = kinds[i].read;
    }
    if (!key)
        ks_json_fail(node, err,
                     "found %s; an outline is {\"circle\": [x, y, r]}, or one of \"polygon\", "
                     "\"ellipse\", \"rectangle\", \"regular\"",
                     ks_json_found(node).words);
    return read;
}

bool ks_outline_read(const ks_json *node, bool around, const ks_field_reader *reader,
                     ks_outline *out)
{
    *out = ks_outline_disc(0, 0, 1, reader->arena);
    if (node->kind == KS_JSON_OBJECT &&
        ks_json_only(node, outline_keys, N_OUTLINE_KEYS, reader->err) != KS_OK)
        return false;
    kind_reader read = find_kind(node, reader->err);
    ks_outline outline;
    if (!read || !read(node, around, reader, &outline))
        return false;
    outline = ks_outline_gridded(&outline, reader->arena);
    const char *fault = ks_outline_fault(&outline);
    if (fault) {
        ks_json_fail(node, reader->err, "this outline cannot be used: %s", fault);
        return false;
    }
    *out = outline;
    return true;
}
