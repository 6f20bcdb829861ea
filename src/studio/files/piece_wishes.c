#include "studio/files/piece_file.h"

#include "base/fold.h"
#include "studio/names.h"

#include <string.h>

static const ks_field keep_fields[] = {
    KS_FIELD(WHOLE, ks_keep, load, "load", .least = 1, .most = 1000),
    KS_FIELD(TEXT, ks_keep, bay, "bay", .most = 200),
    KS_FIELD(WHOLE, ks_keep, level, "level", .required = true, .least = 1, .most = KS_MOST_LEVELS),
    KS_FIELD(LENGTH, ks_keep, stand.x, "x", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, ks_keep, stand.y, "y", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(NUMBER, ks_keep, stand.turn_deg, "turn", .least = -360, .most = 360),
};

static const ks_field wish_fields[] = {
    KS_FIELD_KNOWN("level"),
    KS_FIELD(NAME, ks_level_wish, beside, "beside", .least = 1, .most = 200),
};

static const ks_field not_fields[] = {
    KS_FIELD(WHOLE, ks_level_wish, tier, "not", .required = true, .least = 1,
             .most = KS_MOST_LEVELS),
};

static const ks_field level_word = {.kind = KS_FIELD_WORD, .words = "bottom|low|top"};
static const ks_field level_number = {.kind = KS_FIELD_WHOLE, .least = 1, .most = KS_MOST_LEVELS};

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

static const ks_level_word words[] = {KS_BOTTOM, KS_LOW, KS_TOP};

static void read_level(ks_reading *reading, const ks_json *level, ks_level_wish *wish)
{
    int word = 0;
    if (level->kind == KS_JSON_OBJECT) {
        wish->word = KS_NOT_ON_TIER;
        KS_FIELDS_READ(level, not_fields, &reading->fields, wish);
    } else if (level->kind == KS_JSON_TEXT) {
        if (ks_field_value(level, &level_word, &reading->fields, &word) == KS_OK)
            wish->word = words[word];
    } else if (ks_field_value(level, &level_number, &reading->fields, &wish->tier) == KS_OK) {
        wish->word = KS_ON_TIER;
    }
}

/* A level without a place on it: all copies stand on such a level, or wait. */
static void read_wish(ks_reading *reading, const ks_json *node, ks_level_wish *wish)
{
    const ks_json *level = ks_json_get(node, "level");
    KS_FIELDS_READ(node, wish_fields, &reading->fields, wish);
    if (level)
        read_level(reading, level, wish);
    else if (!wish->beside)
        ks_json_lacks(node, "level", reading->fields.err,
                      "\"bottom\", \"low\", \"top\", a number or {\"not\": number}; or "
                      "\"beside\" and a piece's id");
}

/* A number of a level at the end of a cell; 0 = none. */
static int tier_of(const char *text)
{
    int tier = 0;
    for (; *text >= '0' && *text <= '9' && tier <= KS_MOST_LEVELS; text++)
        tier = 10 * tier + (*text - '0');
    return *text || tier > KS_MOST_LEVELS ? 0 : tier;
}

/* What follows the word in a cell; NULL = it does not begin with it. */
static const char *after_word(const char *text, const char *word)
{
    size_t n = strlen(word);
    return strncmp(text, word, n) == 0 && text[n] == ' ' && text[n + 1] ? text + n + 1 : NULL;
}

/* The same in a table's cell: "low", "2", "level 2", "not 3", "beside big jug". */
static void read_wish_cell(ks_reading *reading, const ks_json *node, ks_level_wish *wish)
{
    static const char *const cells[] = {"bottom", "low", "top"};
    const char *beside = after_word(node->text, "beside"), *off = after_word(node->text, "not");
    const char *on = off ? off : node->text, *number = after_word(on, "level");
    for (int i = 0; i < 3; i++)
        if (ks_text_alike(node->text, cells[i]))
            wish->word = words[i];
    if (beside)
        wish->beside = ks_text_compose(beside, reading->fields.arena);
    wish->tier = tier_of(number ? number : on);
    if (wish->tier > 0)
        wish->word = off ? KS_NOT_ON_TIER : KS_ON_TIER;
    if (wish->word == KS_ANY_LEVEL && !wish->beside)
        ks_json_fail(node, reading->fields.err,
                     "found \"%.60s\"; a piece is kept \"low\", on \"bottom\" or \"top\", on a "
                     "level, \"2\", on any but one, \"not 2\", or \"beside\" a piece",
                     node->text);
}

static void read_keep(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    ks_keep *keep = &piece->keep;
    ks_error *err = reading->fields.err;
    if (!node)
        return;
    if (node->kind == KS_JSON_TEXT) {
        read_wish_cell(reading, node, &piece->wish);
        return;
    }
    if (node->kind == KS_JSON_OBJECT && !ks_json_get(node, "x") && !ks_json_get(node, "y")) {
        read_wish(reading, node, &piece->wish);
        return;
    }
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

static void write_wish(ks_json_out *out, const ks_level_wish *wish)
{
    static const char *const told[] = {[KS_BOTTOM] = "bottom", [KS_LOW] = "low", [KS_TOP] = "top"};
    if (wish->word == KS_ANY_LEVEL && !wish->beside)
        return;
    ks_out_object_flat(out, "keep");
    if (wish->word == KS_ON_TIER) {
        ks_out_whole(out, "level", wish->tier);
    } else if (wish->word == KS_NOT_ON_TIER) {
        ks_out_object_flat(out, "level");
        KS_FIELDS_WRITE(out, not_fields, 0, wish);
        ks_out_end(out);
    } else if (wish->word != KS_ANY_LEVEL) {
        ks_out_text(out, "level", told[wish->word]);
    }
    if (wish->beside)
        ks_out_text(out, "beside", wish->beside);
    ks_out_end(out);
}

/* With all ware known. What another is beside has no such wish of its own. */
void ks_beside_refer(ks_reading *reading, const ks_json *node, ks_order *order, int piece)
{
    ks_id_list pieces = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    const ks_json *keep = ks_json_get(node, "keep"), *told = ks_json_get(keep, "beside");
    ks_level_wish *wish = &order->pieces[piece].wish;
    if (!keep || !wish->beside)
        return;
    ks_json name = told ? *told : *keep;
    name.text = wish->beside;
    int place = ks_id_refer(&name, &pieces, reading->fields.err);
    if (place < 0)
        return;
    wish->beside = order->pieces[place].id;
    if (place == piece)
        ks_json_fail(&name, reading->fields.err, "it cannot be beside itself");
    else if (order->pieces[place].fill)
        ks_json_fail(&name, reading->fields.err,
                     "it is to stand beside %s, which is counted as \"fill\": maybe none goes in",
                     wish->beside);
    else if (order->pieces[place].wish.beside)
        ks_json_fail(&name, reading->fields.err,
                     "it is to stand beside %s, which is itself beside %s: name that one here too",
                     wish->beside, order->pieces[place].wish.beside);
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
    write_wish(out, &piece->wish);
    if (piece->keep.kept) {
        ks_keep counted = piece->keep;
        counted.load++;
        counted.level++;
        ks_out_object_flat(out, "keep");
        KS_FIELDS_WRITE(out, keep_fields, 0, &counted);
        ks_out_end(out);
    }
}
