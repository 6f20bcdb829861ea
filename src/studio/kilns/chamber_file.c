#include "studio/kilns/kiln_file.h"

/* The barrel of an arch is cut into this many slices of equal height; the one at the crown, which
 * would have no width, is left out. */
enum { ARCH_SLICES = 16 };

static const ks_field chamber_fields[] = {
    KS_FIELD(LENGTH, ks_kiln, height_mm, "height", .required = true, .least = 50, .most = 5000),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD_KNOWN("parts"),
    KS_FIELD_KNOWN("arch"),
};

static const ks_field part_fields[] = {
    KS_FIELD(LENGTH, ks_chamber_part, from_mm, "from", .required = true, .most = 5000),
    KS_FIELD(LENGTH, ks_chamber_part, to_mm, "to", .required = true, .most = 5000),
    KS_FIELD_KNOWN("outline"),
};

typedef struct {
    double spring_mm;
} arch;

static const ks_field arch_fields[] = {
    KS_FIELD(LENGTH, arch, spring_mm, "spring", .required = true, .least = 10, .most = 5000),
};

void ks_chamber_part_read(ks_reading *reading, const ks_json *node, void *into)
{
    ks_chamber_part *part = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    KS_FIELDS_READ(node, part_fields, &reading->fields, part);
    const ks_json *outline = ks_json_get(node, "outline");
    if (outline)
        ks_outline_read(outline, false, &reading->fields, &part->outline);
    else if (node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "outline", err, "the chamber at these heights, seen from above");
    if (err->count == before && part->to_mm <= part->from_mm)
        ks_json_fail(node, err, "found it from %g to %g mm; \"to\" must be above \"from\"",
                     part->from_mm, part->to_mm);
}

/* The convex polygon's side of the line x = limit, where `side` (1 or -1) times x is the less. */
static int cut_by_line(const ks_point *at, int n, double limit, double side, ks_point *kept)
{
    int count = 0;
    for (int i = 0; i < n; i++) {
        ks_point a = at[i], b = at[(i + 1) % n];
        double over_a = side * a.x - limit, over_b = side * b.x - limit;
        if (over_a <= 0)
            kept[count++] = a;
        if ((over_a < 0 && over_b > 0) || (over_a > 0 && over_b < 0)) {
            double share = over_a / (over_a - over_b);
            kept[count++] = (ks_point){side * limit, a.y + share * (b.y - a.y)};
        }
    }
    return count;
}

static ks_outline within_half_width(const ks_outline *outline, double half, ks_arena *arena)
{
    ks_point *one = KS_TAKE(arena, outline->n + 2, ks_point);
    ks_point *both = KS_TAKE(arena, outline->n + 4, ks_point);
    int n = cut_by_line(outline->at, outline->n, half - outline->round, 1, one);
    n = cut_by_line(one, n, half - outline->round, -1, both);
    ks_outline cut = {n, both, outline->round};
    return ks_outline_gridded(&cut, arena);
}

bool ks_chamber_arched(const ks_outline *outline, double spring_mm, double height_mm,
                       ks_arena *arena, ks_chamber_part **parts, int *n_parts)
{
    if (outline->n < 3 || !ks_outline_convex(outline))
        return false;
    ks_box box = ks_outline_box(outline);
    double half = fmin(-box.x0, box.x1), rise = height_mm - spring_mm;
    double radius = (half * half + rise * rise) / (2 * rise);
    ks_chamber_part *part = KS_TAKE(arena, ARCH_SLICES + 1, ks_chamber_part);
    part[0] = (ks_chamber_part){0, spring_mm, *outline};
    int n = 1;
    for (int i = 0; i < ARCH_SLICES - 1; i++) {
        double top = rise * (i + 1) / ARCH_SLICES, below_crown = rise - top;
        double width =
            sqrt(below_crown * (2 * radius - below_crown)); /* half the chord at the top */
        if (width > half)
            width = half; /* a barrel higher than a half circle bulges; the wall does not */
        if (width - outline->round <= 1)
            break;
        part[n++] = (ks_chamber_part){ks_gridded(spring_mm + rise * i / ARCH_SLICES),
                                      ks_gridded(spring_mm + top),
                                      within_half_width(outline, width, arena)};
    }
    *parts = part;
    *n_parts = n;
    return true;
}

static void read_arch(ks_reading *reading, const ks_json *node, const ks_outline *outline,
                      ks_kiln *kiln)
{
    ks_error *err = reading->fields.err;
    arch told = {0};
    if (KS_FIELDS_READ(node, arch_fields, &reading->fields, &told) != KS_OK)
        return;
    if (told.spring_mm >= kiln->height_mm)
        ks_json_fail(node, err,
                     "the arch springs at %g mm, but the chamber is %g mm high; it must "
                     "spring lower",
                     told.spring_mm, kiln->height_mm);
    else if (!ks_chamber_arched(outline, told.spring_mm, kiln->height_mm, reading->fields.arena,
                                &kiln->parts, &kiln->n_parts))
        ks_json_fail(node, err,
                     "an arch needs straight walls below: a rectangle or another "
                     "convex polygon; give other chambers as \"parts\" by height");
}

static void read_straight(ks_reading *reading, const ks_json *chamber, ks_kiln *kiln)
{
    ks_outline outline;
    if (!ks_outline_read(ks_json_get(chamber, "outline"), false, &reading->fields, &outline) ||
        kiln->height_mm <= 0)
        return;
    const ks_json *arch_node = ks_json_get(chamber, "arch");
    if (arch_node) {
        read_arch(reading, arch_node, &outline, kiln);
        return;
    }
    kiln->n_parts = 1;
    kiln->parts = KS_TAKE(reading->fields.arena, 1, ks_chamber_part);
    kiln->parts[0] = (ks_chamber_part){0, kiln->height_mm, outline};
}

static void parts_within_height(const ks_json *list, const ks_kiln *kiln, ks_error *err)
{
    for (int i = 0; i < kiln->n_parts; i++)
        if (kiln->parts[i].to_mm > kiln->height_mm + KS_GRID)
            ks_json_fail(&list->items[i], err, "it reaches %g mm, but the chamber is %g mm high",
                         kiln->parts[i].to_mm, kiln->height_mm);
}

void ks_chamber_read(ks_reading *reading, const ks_json *kiln_node, ks_kiln *kiln)
{
    ks_error *err = reading->fields.err;
    const ks_json *node = ks_json_get(kiln_node, "chamber");
    if (!node) {
        ks_json_lacks(kiln_node, "chamber", err, "its height and outline are needed");
        return;
    }
    int before = err->count;
    KS_FIELDS_READ(node, chamber_fields, &reading->fields, kiln);
    if (node->kind != KS_JSON_OBJECT)
        return;
    const ks_json *parts = ks_json_get(node, "parts");
    if (ks_json_get(node, "outline") && parts)
        ks_json_fail(node, err, "found both \"outline\" and \"parts\"; give one of them");
    else if (ks_json_get(node, "outline"))
        read_straight(reading, node, kiln);
    else if (parts) {
        kiln->parts = ks_list_read(reading, parts, 100, sizeof(ks_chamber_part),
                                   ks_chamber_part_read, &kiln->n_parts);
        if (err->count == before)
            parts_within_height(parts, kiln, err);
        if (err->count == before && kiln->n_parts == 0)
            ks_json_fail(parts, err, "found none; the chamber has at least one part");
    } else
        ks_json_lacks(node, "outline", err, "the chamber seen from above");
}

void ks_chamber_write(ks_json_out *out, const char *key, double height_mm, int n_parts,
                      const ks_chamber_part *parts)
{
    ks_out_object(out, key);
    ks_length_write(out, "height", height_mm);
    ks_out_array(out, "parts");
    for (int i = 0; i < n_parts; i++) {
        ks_out_object_flat(out, NULL);
        ks_length_write(out, "from", parts[i].from_mm);
        ks_length_write(out, "to", parts[i].to_mm);
        ks_outline_write(out, "outline", &parts[i].outline);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_end(out);
}

double ks_chamber_litres(const ks_kiln *kiln)
{
    double mm3 = 0;
    for (int i = 0; i < kiln->n_parts; i++)
        mm3 += ks_outline_area(&kiln->parts[i].outline) *
               (kiln->parts[i].to_mm - kiln->parts[i].from_mm);
    return mm3 / 1e6;
}
