#include "studio/parts.h"
#include "studio/files/piece_file.h"

#include <string.h>

static const ks_field reach_fields[] = {
    {.key = "reach", .kind = KS_FIELD_LENGTH, .required = true, .at = 0, .least = 1, .most = 2000},
    {.key = "width",
     .kind = KS_FIELD_LENGTH,
     .required = true,
     .at = sizeof(double),
     .least = 1,
     .most = 2000},
    {.key = "from",
     .kind = KS_FIELD_LENGTH,
     .required = true,
     .at = 2 * sizeof(double),
     .most = 5000},
    {.key = "to",
     .kind = KS_FIELD_LENGTH,
     .required = true,
     .at = 3 * sizeof(double),
     .most = 5000},
    {.key = "at", .kind = KS_FIELD_NUMBER, .at = 4 * sizeof(double), .least = -360, .most = 360},
};

/* Reach, width, from and to of a handle or a spout that is there, but not measured, as shares of
 * the height; reach and width within bounds. Common practice, no source. */
static const struct usual_reach {
    const char *key;
    double reach, reach_least, reach_most, width, width_least, width_most, from, to;
} usual_reaches[] = {{"handle", 0.38, 20, 45, 0.22, 12, 25, 0.2, 0.85},
                     {"spout", 0.3, 20, 60, 0.25, 20, 40, 0.4, 1}};

static void take_usual(ks_piece_entry *entry, const char *key, const ks_part_list *list,
                       double told[5])
{
    const struct usual_reach *usual = &usual_reaches[strcmp(key, "spout") == 0];
    double height = ks_parts_top_mm(list->at, list->n);
    told[0] = round(fmin(fmax(usual->reach * height, usual->reach_least), usual->reach_most));
    told[1] = round(fmin(fmax(usual->width * height, usual->width_least), usual->width_most));
    told[2] = round(usual->from * height);
    told[3] = fmax(round(usual->to * height), told[2] + 1);
    ks_default_note(&entry->piece.defaults, key, list->arena);
}

static void build_handle(ks_reading *reading, ks_piece_entry *entry, const char *key,
                         ks_part_list *list)
{
    double told[5] = {0}; /* reach, width, from, to, at */
    const ks_json *node = ks_json_get(entry->node, key);
    if (!node || (node->kind == KS_JSON_BOOL && !node->truth))
        return;
    if (node->kind == KS_JSON_BOOL)
        take_usual(entry, key, list, told);
    else if (KS_FIELDS_READ(node, reach_fields, &reading->fields, told) != KS_OK)
        return;
    if (told[3] <= told[2]) {
        ks_json_fail(node, reading->fields.err,
                     "found it from %g to %g mm; \"to\" must be above \"from\"", told[2], told[3]);
        return;
    }
    *(strcmp(key, "spout") == 0 ? &entry->piece.understood.spout_mm
                                : &entry->piece.understood.handle_mm) = told[0];
    ks_handle_add(list, told[0], told[1], told[2], told[3], told[4]);
    double strap = (2 * told[0] + told[3] - told[2]) * told[1];
    entry->lateral_mm2 += strap;
}

static void on_grid(ks_part_list *list)
{
    for (int i = 0; i < list->n; i++) {
        list->at[i].from_mm = ks_gridded(list->at[i].from_mm);
        list->at[i].to_mm = ks_gridded(list->at[i].to_mm);
        list->at[i].outline = ks_outline_gridded(&list->at[i].outline, list->arena);
        if (list->at[i].hollow.n > 0)
            list->at[i].hollow = ks_outline_gridded(&list->at[i].hollow, list->arena);
    }
}

/* How far a foot comes nearer the slab's edge when both have shrunk as much as they ever may. */
static double margin_needed(const ks_reading *reading, const ks_piece *piece,
                            const ks_outline *feet)
{
    const ks_order *order = reading->order;
    int slab_clay = piece->setter.clay >= 0 ? piece->setter.clay : piece->clay;
    double form = ks_clay_shrinkage(ks_clay_or_usual(order->clays, piece->clay), piece->stage,
                                    KS_FIRED, NULL);
    double slab = ks_clay_shrinkage(ks_clay_or_usual(order->clays, slab_clay), piece->setter.stage,
                                    KS_FIRED, NULL);
    return (slab - form) * ks_outline_around(feet).r;
}

/* A slab whose outline is told holds all feet. */
static bool is_under(ks_reading *reading, const ks_piece_entry *entry, const ks_outline *feet)
{
    const ks_setter *setter = &entry->piece.setter;
    ks_outline slab = setter->outline;
    if (!setter->outline_told)
        return true;
    slab.round += setter->margin_mm;
    double within = ks_outline_inside(feet, &slab);
    if (within < -KS_GRID)
        ks_json_fail(ks_json_get(ks_json_get(entry->node, "setter"), "outline"),
                     reading->fields.err,
                     "found one that ends %.4g mm short of the feet; what carries a form reaches "
                     "beyond all of them",
                     -within);
    return within >= -KS_GRID;
}

static void set_on_setter(ks_reading *reading, ks_piece_entry *entry, ks_part_list *list)
{
    ks_piece *piece = &entry->piece;
    ks_outline feet = ks_parts_feet(list->at, list->n, false, list->arena);
    bool as_built = false;
    for (int i = 0; i < list->n; i++)
        as_built |= ks_part_of_setter(list->at[i].kind);
    ks_setter_staged(&piece->setter, piece);
    double needed = margin_needed(reading, piece, &feet);
    if (!as_built && piece->setter.margin_mm < needed)
        ks_warn(reading, ks_json_get(entry->node, "setter"),
                "the slab shrinks more than the form: a margin of %.0f mm is less than the %.1f mm "
                "by which its edge may come nearer the feet",
                piece->setter.margin_mm, needed);
    ks_setter_fill(&piece->setter, needed);
    if (!as_built && is_under(reading, entry, &feet))
        ks_parts_set(list, &piece->setter);
}

static const char *shape_of(const ks_json *node)
{
    static const char *const shapes[][2] = {{"parts", "parts"},     {"profile", "thrown"},
                                            {"widths", "widths"},   {"photo", "photo"},
                                            {"outline", "outline"}, {"diameter", "round"}};
    for (size_t i = 0; i < sizeof shapes / sizeof *shapes; i++)
        if (ks_json_get(node, shapes[i][0]))
            return shapes[i][1];
    return "rectangular";
}

static void understand_body(ks_piece_entry *entry, const ks_part_list *list)
{
    ks_understood *understood = &entry->piece.understood;
    ks_outline feet = ks_parts_feet(list->at, list->n, false, list->arena);
    ks_box all = ks_outline_box(&list->at[0].outline), foot = ks_outline_box(&feet);
    for (int i = 1; i < list->n; i++) {
        ks_box box = ks_outline_box(&list->at[i].outline);
        all = (ks_box){fmin(all.x0, box.x0), fmin(all.y0, box.y0), fmax(all.x1, box.x1),
                       fmax(all.y1, box.y1)};
    }
    understood->shape = shape_of(entry->node);
    understood->width_mm = all.x1 - all.x0;
    understood->depth_mm = all.y1 - all.y0;
    understood->height_mm = ks_parts_top_mm(list->at, list->n);
    understood->foot_mm = foot.x1 - foot.x0;
}

bool ks_piece_build(ks_reading *reading, ks_piece_entry *entry)
{
    ks_error *err = reading->fields.err;
    int before = err->count;
    ks_piece *piece = &entry->piece;
    ks_part_list list = {.arena = reading->fields.arena};
    if (!ks_shape_build(reading, entry, &list))
        return false;
    understand_body(entry, &list);
    build_handle(reading, entry, "handle", &list);
    build_handle(reading, entry, "spout", &list);
    if (err->count > before)
        return false;
    if (!ks_json_get(entry->node, "parts"))
        ks_parts_posed(&list, piece->pose);
    if (piece->has_setter)
        set_on_setter(reading, entry, &list);
    on_grid(&list);
    piece->parts = list.at;
    piece->n_parts = list.n;
    return true;
}
