#include "studio/files/stacking_file.h"

#include "base/words.h"
#include "studio/names.h"
#include "studio/stacked.h"

static const ks_field stacking_fields[] = {
    KS_FIELD(WHOLE, ks_stacking, rims, "rims", .least = 1, .most = 20),
    KS_FIELD(WHOLE, ks_stacking, nest, "nest", .least = 1, .most = 50),
    KS_FIELD(WHOLE, ks_stacking, plates, "plates", .least = 1, .most = 50),
    KS_FIELD(WHOLE, ks_stacking, tiles, "tiles", .least = 1, .most = 100),
    KS_FIELD(NUMBER, ks_stacking, carried, "carried", .least = 0, .most = 100),
    KS_FIELD(LENGTH, ks_stacking, thin_rim_mm, "thin_rim", .most = 100),
    KS_FIELD(LENGTH, ks_stacking, thick_mm, "thick", .least = 1, .most = 500),
    KS_FIELD(LENGTH, ks_stacking, finger_mm, "finger", .most = 100),
};

/* Common practice, no source: three on rims agrees with every report found, plates in a pile crack
 * from six on, and of nests and tiles nobody reports. */
const ks_stacking ks_usual_stacking = {.rims = 3,
                                       .nest = 6,
                                       .plates = 5,
                                       .tiles = 10,
                                       .carried = 3,
                                       .thin_rim_mm = 3,
                                       .thick_mm = 15,
                                       .finger_mm = 12};

void ks_stacking_read(ks_reading *reading, const ks_json *rules, ks_stacking *stacking)
{
    const ks_json *node = ks_json_get(rules, "stacking");
    *stacking = ks_usual_stacking;
    if (node)
        KS_FIELDS_READ(node, stacking_fields, &reading->fields, stacking);
}

void ks_stacking_write(ks_json_out *out, const ks_stacking *stacking)
{
    ks_out_object_flat(out, "stacking");
    KS_FIELDS_WRITE(out, stacking_fields, 0, stacking);
    ks_out_end(out);
}

/* The first of those words that a piece can be told: a lid is told by "lid_of". */
#define TOLD_WAYS "nest|rim|pile|edge"

static void read_told(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    static const ks_field way_word = {.kind = KS_FIELD_WORD, .words = TOLD_WAYS};
    bool none = node->kind == KS_JSON_BOOL && !node->truth;
    if (node->kind == KS_JSON_ARRAY && node->n == 1 && node->items[0].from_cell &&
        ks_words_find("no|false|none|-", node->items[0].text, true) >= 0)
        none = true;
    piece->ways = 0;
    if (none)
        return;
    if (node->kind != KS_JSON_ARRAY) {
        ks_json_fail(node, reading->fields.err,
                     "found %s; write false, or the ways it may be stacked in: [\"nest\", \"rim\", "
                     "\"pile\", \"edge\"]",
                     ks_json_found(node).words);
        return;
    }
    for (int i = 0; i < node->n; i++) {
        int way = 0;
        if (ks_field_value(&node->items[i], &way_word, &reading->fields, &way) == KS_OK)
            piece->ways |= KS_WAY_BIT((unsigned)way + KS_NEST);
    }
}

void ks_ways_read(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_json *told = ks_json_get(node, "stack");
    piece->ways = ks_ways_usual(piece);
    if (!told)
        return;
    read_told(reading, told, piece);
    if (piece->ways == 0 || !(piece->glazed || piece->has_setter))
        return;
    ks_warn(reading, told, "%s is not stacked: %s", piece->id,
            piece->glazed ? "glazed ware touches nothing" : "it stands on a setter");
    piece->ways = 0;
}

void ks_ways_write(ks_json_out *out, const ks_piece *piece)
{
    if (piece->glazed)
        return;
    if (piece->ways == 0) {
        ks_out_bool(out, "stack", false);
        return;
    }
    ks_out_array_flat(out, "stack");
    for (ks_way way = KS_NEST; way < KS_LID; way++)
        if (piece->ways & KS_WAY_BIT(way))
            ks_out_text(out, NULL, ks_way_name(way));
    ks_out_end(out);
}

void ks_lid_refer(ks_reading *reading, const ks_json *node, const ks_order *order, int piece)
{
    ks_piece *lid = &order->pieces[piece];
    const ks_json *told = ks_json_get(node, "lid_of");
    ks_id_list pieces = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    if (!told || !lid->lid_of)
        return;
    int pot = ks_id_refer(told, &pieces, reading->fields.err);
    if (pot < 0)
        return;
    lid->lid_of = order->pieces[pot].id;
    if (pot == piece)
        ks_json_fail(told, reading->fields.err, "it cannot be a lid of its own");
    else if (order->pieces[pot].lid_of)
        ks_json_fail(told, reading->fields.err, "found \"%s\", which is a lid itself", lid->lid_of);
    else if (lid->count > order->pieces[pot].count && !order->pieces[pot].fill)
        ks_json_fail(told, reading->fields.err,
                     "found %d lids, but of \"%s\" there are %d: each is fired on a pot of its own",
                     lid->count, lid->lid_of, order->pieces[pot].count);
}
