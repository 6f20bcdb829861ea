#include "studio/files/piece_file.h"

static const ks_field keep_fields[] = {
    KS_FIELD(WHOLE, ks_keep, load, "load", .least = 1, .most = 1000),
    KS_FIELD(TEXT, ks_keep, bay, "bay", .most = 200),
    KS_FIELD(WHOLE, ks_keep, level, "level", .required = true, .least = 1, .most = KS_MOST_LEVELS),
    KS_FIELD(LENGTH, ks_keep, stand.x, "x", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, ks_keep, stand.y, "y", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(NUMBER, ks_keep, stand.turn_deg, "turn", .least = -360, .most = 360),
};

static const ks_field on_fields[] = {
    KS_FIELD(NAME, ks_piece, on_id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(WHOLE, ks_piece, on_copy, "copy", .least = 1, .most = 10000),
};

static const ks_field turn_fields[] = {
    KS_FIELD(NUMBER, ks_piece, turn_step_deg, "step", .required = true, .least = 0, .most = 360),
    KS_FIELD(NUMBER, ks_piece, turn_first_deg, "first", .least = -360, .most = 360),
};

static const ks_field turn_word = {.kind = KS_FIELD_WORD, .words = "any|fixed|quarter|half"};
static const double turn_steps[] = {0, 360, 90, 180};

static double turn_within_full(double turn_deg)
{
    return turn_deg < 0 ? turn_deg + 360 : turn_deg >= 360 ? turn_deg - 360 : turn_deg;
}

static void read_turn(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    int word = 0;
    if (node && node->kind == KS_JSON_OBJECT)
        KS_FIELDS_READ(node, turn_fields, &reading->fields, piece);
    else if (node && ks_field_value(node, &turn_word, &reading->fields, &word) == KS_OK)
        piece->turn_step_deg = turn_steps[word];
    piece->turn_first_deg = turn_within_full(piece->turn_first_deg);
}

static void read_keep(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    ks_keep *keep = &piece->keep;
    ks_error *err = reading->fields.err;
    if (!node)
        return;
    *keep = (ks_keep){.kept = true, .load = 1, .bay = ""};
    if (KS_FIELDS_READ(node, keep_fields, &reading->fields, keep) == KS_OK &&
        keep->load > reading->order->n_slots && reading->order->n_slots > 0)
        ks_json_fail(node, err, "found load %d, but the order plans %d at most", keep->load,
                     reading->order->n_slots);
    keep->load--;
    keep->level--;
    keep->stand.turn_deg = turn_within_full(keep->stand.turn_deg);
    bool known = !*keep->bay;
    for (int i = 0; i < reading->order->n_kilns; i++) {
        const ks_kiln *kiln = &reading->order->kilns[i];
        ks_id_list bays = KS_ID_LIST("bay", kiln->bays, kiln->n_bays);
        known |= ks_id_place(&bays, keep->bay) >= 0;
    }
    if (!known && reading->order->n_kilns > 0)
        ks_json_fail(ks_json_get(node, "bay"), err, "found \"%s\", but no kiln has such a bay",
                     keep->bay);
}

void ks_wishes_read(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_json *on = ks_json_get(node, "on");
    read_turn(reading, ks_json_get(node, "turn"), piece);
    read_keep(reading, ks_json_get(node, "keep"), piece);
    if (on)
        KS_FIELDS_READ(on, on_fields, &reading->fields, piece);
}

void ks_wishes_write(ks_json_out *out, const ks_piece *piece)
{
    ks_out_object_flat(out, "turn");
    KS_FIELDS_WRITE(out, turn_fields, 0, piece);
    ks_out_end(out);
    if (piece->on_id) {
        ks_out_object_flat(out, "on");
        KS_FIELDS_WRITE(out, on_fields, 0, piece);
        ks_out_end(out);
    }
    if (piece->keep.kept) {
        ks_keep counted = piece->keep;
        counted.load++;
        counted.level++;
        ks_out_object_flat(out, "keep");
        KS_FIELDS_WRITE(out, keep_fields, 0, &counted);
        ks_out_end(out);
    }
}
