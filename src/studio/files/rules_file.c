#include "studio/kilns/kiln_file.h"
#include "studio/names.h"
#include "studio/files/order_file.h"
#include "studio/files/stacking_file.h"
#include "studio/reading/tags.h"

#include <string.h>

static const ks_field rules_fields[] = {
    KS_FIELD(WORD, ks_rules, objective, "objective", .words = KS_OBJECTIVE_WORDS),
    KS_FIELD_KNOWN("clearances"),
    KS_FIELD_KNOWN("apart"),
    KS_FIELD_KNOWN("no_ware"),
    KS_FIELD_KNOWN("low"),
    KS_FIELD_KNOWN("cones"),
    KS_FIELD(LENGTH, ks_rules, hand_room_mm, "hand_room", .most = 500),
    KS_FIELD(WORD, ks_rules, hand, "hand", .words = KS_HANDED_WORDS),
    KS_FIELD(LENGTH, ks_rules, large_mm, "large", .least = 10, .most = 5000),
    KS_FIELD(LENGTH, ks_rules, arm_mm, "arm", .most = 5000),
    KS_FIELD(MASS, ks_rules, heavy_kg, "heavy", .least = 0.1, .most = 1000),
    KS_FIELD(NUMBER, ks_rules, outward_fraction, "outward", .most = 0.1),
    KS_FIELD(BOOL, ks_rules, fewest_levels, "fewest_levels"),
    KS_FIELD_KNOWN("lifting"),
    KS_FIELD_KNOWN("stacking"),
    KS_FIELD_KNOWN("fair"),
};

/* Who and what is at hand to lift a form in. */
static const ks_field lifting_fields[] = {
    KS_FIELD(WHOLE, ks_rules, lifters, "people", .least = 1, .most = 20),
    KS_FIELD(MASS, ks_rules, hoist_kg, "hoist", .least = 1, .most = 100000),
};

static const ks_field cone_fields[] = {
    KS_FIELD_KNOWN("on"),
    KS_FIELD(BOOL, ks_cone_packs, at_peephole, "at_peephole"),
    KS_FIELD(LENGTH, ks_cone_packs, width_mm, "width", .least = 5, .most = 500),
    KS_FIELD(LENGTH, ks_cone_packs, depth_mm, "depth", .least = 5, .most = 500),
    KS_FIELD(LENGTH, ks_cone_packs, height_mm, "height", .least = 5, .most = 500),
};

static const ks_field yes_or_no = {.kind = KS_FIELD_BOOL};

static const ks_field place_word = {.kind = KS_FIELD_WORD, .words = "bottom|middle|top"};

/* A pack of three large cones in a wad of clay: about 60 mm long, 25 deep and as tall as a cone
 * (65 mm); common practice, no source. */
static const ks_cone_packs usual_cones = {.wanted = true,
                                          .bottom = true,
                                          .middle = true,
                                          .top = true,
                                          .at_peephole = true,
                                          .width_mm = 60,
                                          .depth_mm = 25,
                                          .height_mm = 65,
                                          .by_size = true};

static void read_cone_places(ks_reading *reading, const ks_json *node, ks_cone_packs *cones)
{
    if (!node || ks_array_check(node, 0, 3, reading->fields.err) != KS_OK)
        return;
    bool on[3] = {false, false, false};
    for (int i = 0; i < node->n; i++) {
        int place = 0;
        if (ks_field_value(&node->items[i], &place_word, &reading->fields, &place) == KS_OK)
            on[place] = true;
    }
    cones->by_size = false;
    cones->bottom = on[0];
    cones->middle = on[1];
    cones->top = on[2];
}

static void read_cones_rule(ks_reading *reading, const ks_json *node, ks_cone_packs *cones)
{
    if (node && node->kind == KS_JSON_BOOL) {
        cones->wanted = node->truth;
        return;
    }
    if (!node)
        return;
    KS_FIELDS_READ(node, cone_fields, &reading->fields, cones);
    read_cone_places(reading, ks_json_get(node, "on"), cones);
}

static void read_clearances(ks_reading *reading, const ks_json *node, ks_rules *rules)
{
    for (int i = 0; i < ks_n_clearances; i++)
        *ks_clearance_at(&rules->clearance, i) = -1;
    ks_clearance_read(reading, node, &rules->clearance);
}

static const ks_field no_ware_fields[] = {
    KS_FIELD_KNOWN("level"),
    KS_FIELD(LENGTH, ks_no_ware, from_mm, "from", .most = 10000),
    KS_FIELD(LENGTH, ks_no_ware, to_mm, "to", .most = 10000),
};

static const ks_field no_ware_word = {.kind = KS_FIELD_WORD, .words = "bottom|top"};
static const ks_field no_ware_number = {.kind = KS_FIELD_WHOLE, .least = 1, .most = KS_MOST_LEVELS};

static void read_no_ware_level(ks_reading *reading, const ks_json *node, ks_level_wish *level)
{
    int word = 0;
    if (node->kind != KS_JSON_TEXT) {
        if (ks_field_value(node, &no_ware_number, &reading->fields, &level->tier) == KS_OK)
            level->word = KS_ON_TIER;
    } else if (ks_field_value(node, &no_ware_word, &reading->fields, &word) == KS_OK) {
        level->word = word == 0 ? KS_BOTTOM : KS_TOP;
    }
}

static void read_one_no_ware(ks_reading *reading, const ks_json *node, void *into)
{
    ks_no_ware *no = into;
    ks_error *err = reading->fields.err;
    const ks_json *level = ks_json_get(node, "level"), *from = ks_json_get(node, "from"),
                  *to = ks_json_get(node, "to");
    if (KS_FIELDS_READ(node, no_ware_fields, &reading->fields, no) != KS_OK)
        return;
    if (level && !from && !to)
        read_no_ware_level(reading, level, &no->level);
    else if (level || !to)
        ks_json_fail(node, err,
                     "takes a level, {\"level\": \"bottom\"}, \"top\" or a number, or heights "
                     "above the floor, {\"from\": \"0 in\", \"to\": \"4 in\"}");
    else if (no->to_mm <= no->from_mm)
        ks_json_fail(to, err, "found a height that is not above \"from\"");
}

void ks_rules_read(ks_reading *reading, const ks_json *order_node, ks_order *order)
{
    const ks_json *node = ks_json_get(order_node, "rules");
    ks_rules *rules = &order->rules;
    *rules = (ks_rules){.hand_room_mm = 25,
                        .large_mm = 250,
                        .arm_mm = 700,
                        .heavy_kg = 8,
                        .outward_fraction = 0.007,
                        .cones = usual_cones};
    if (node)
        KS_FIELDS_READ(node, rules_fields, &reading->fields, rules);
    const ks_json *lifting = ks_json_get(node, "lifting");
    if (lifting)
        KS_FIELDS_READ(lifting, lifting_fields, &reading->fields, rules);
    ks_stacking_read(reading, node, &rules->stacking);
    const ks_json *fair = ks_json_get(node, "fair");
    if (fair)
        (void)ks_field_value(fair, &yes_or_no, &reading->fields, &rules->fair);
    read_clearances(reading, ks_json_get(node, "clearances"), rules);
    read_cones_rule(reading, ks_json_get(node, "cones"), &rules->cones);
    rules->no_ware = ks_list_read(reading, ks_json_get(node, "no_ware"), 100, sizeof(ks_no_ware),
                                  read_one_no_ware, &rules->n_no_ware);
}

static void read_one_apart(ks_reading *reading, const ks_json *node, void *into)
{
    struct {
        int by;
    } told = {0};
    static const ks_field fields[] = {
        KS_FIELD_KNOWN("tags"),
        {.key = "by", .kind = KS_FIELD_WORD, .at = 0, .words = "level|load"}};
    ks_apart *apart = into;
    KS_FIELDS_READ(node, fields, &reading->fields, &told);
    apart->whole_load = told.by == 1;
    const ks_json *tags = ks_json_get(node, "tags");
    if (!tags && node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "tags", reading->fields.err, "the two that keep apart: [\"a\", \"b\"]");
    if (!tags || ks_array_check(tags, 2, 2, reading->fields.err) != KS_OK)
        return;
    apart->a = ks_tag_refer(reading, &tags->items[0]);
    apart->b = ks_tag_refer(reading, &tags->items[1]);
}

static void read_low(ks_reading *reading, const ks_json *node, ks_rules *rules)
{
    if (!node || ks_array_check(node, 0, KS_MOST_TAGS, reading->fields.err) != KS_OK)
        return;
    for (int i = 0; i < node->n; i++)
        rules->low_tags |= ks_tag_refer(reading, &node->items[i]);
}

void ks_tag_rules_read(ks_reading *reading, const ks_json *order_node, ks_order *order)
{
    const ks_json *rules = ks_json_get(order_node, "rules");
    order->rules.apart = ks_list_read(reading, ks_json_get(rules, "apart"), 200, sizeof(ks_apart),
                                      read_one_apart, &order->rules.n_apart);
    read_low(reading, ks_json_get(rules, "low"), &order->rules);
}

static void write_cone_places(ks_json_out *out, const ks_cone_packs *cones)
{
    ks_out_array(out, "on");
    if (cones->bottom)
        ks_out_text(out, NULL, "bottom");
    if (cones->middle)
        ks_out_text(out, NULL, "middle");
    if (cones->top)
        ks_out_text(out, NULL, "top");
    ks_out_end(out);
}

static void write_cones_rule(ks_json_out *out, const ks_cone_packs *cones)
{
    if (!cones->wanted) {
        ks_out_bool(out, "cones", false);
        return;
    }
    ks_out_object_flat(out, "cones");
    if (!cones->by_size)
        write_cone_places(out, cones);
    KS_FIELDS_WRITE(out, cone_fields, 0, cones);
    ks_out_end(out);
}

static void write_apart(ks_json_out *out, const ks_order *order, const ks_apart *apart)
{
    ks_out_object_flat(out, NULL);
    ks_out_array(out, "tags");
    const uint32_t both[] = {apart->a, apart->b};
    for (int i = 0; i < 2; i++)
        for (int bit = 0; bit < order->n_tags; bit++)
            if (both[i] >> bit & 1)
                ks_out_text(out, NULL, order->tags[bit]);
    ks_out_end(out);
    ks_out_text(out, "by", apart->whole_load ? "load" : "level");
    ks_out_end(out);
}

static void write_lifting(ks_json_out *out, const ks_rules *rules)
{
    if (rules->lifters <= 0 && !(rules->hoist_kg > 0))
        return;
    ks_out_object_flat(out, "lifting");
    if (rules->lifters > 0)
        ks_out_whole(out, "people", rules->lifters);
    if (rules->hoist_kg > 0)
        ks_out_number(out, "hoist", rules->hoist_kg);
    ks_out_end(out);
}

static void write_no_ware(ks_json_out *out, const ks_rules *rules)
{
    if (rules->n_no_ware == 0)
        return;
    ks_out_array(out, "no_ware");
    for (int i = 0; i < rules->n_no_ware; i++) {
        const ks_no_ware *no = &rules->no_ware[i];
        ks_out_object_flat(out, NULL);
        if (no->level.word == KS_ON_TIER)
            ks_out_whole(out, "level", no->level.tier);
        else if (no->level.word != KS_ANY_LEVEL)
            ks_out_text(out, "level", no->level.word == KS_TOP ? "top" : "bottom");
        else
            KS_FIELDS_WRITE(out, no_ware_fields, 0, no);
        ks_out_end(out);
    }
    ks_out_end(out);
}

void ks_rules_write(ks_json_out *out, const ks_order *order)
{
    const ks_rules *rules = &order->rules;
    ks_clearance told = rules->clearance;
    for (int i = 0; i < ks_n_clearances; i++)
        if (*ks_clearance_at(&told, i) < 0)
            *ks_clearance_at(&told, i) = KS_NOT_TOLD;
    ks_out_object(out, "rules");
    KS_FIELDS_WRITE(out, rules_fields, 0, rules);
    if (rules->fair)
        ks_out_bool(out, "fair", true);
    write_lifting(out, rules);
    ks_stacking_write(out, &rules->stacking);
    write_no_ware(out, rules);
    ks_tags_write(out, "low", order, rules->low_tags);
    ks_clearance_write(out, "clearances", &told);
    ks_out_array(out, "apart");
    for (int i = 0; i < rules->n_apart; i++)
        write_apart(out, order, &rules->apart[i]);
    ks_out_end(out);
    write_cones_rule(out, &rules->cones);
    ks_out_end(out);
}

ks_clearance ks_order_clearance(const ks_order *order, const ks_kiln *kiln)
{
    ks_clearance clearance = kiln->clearance, told = order->rules.clearance;
    for (int i = 0; i < ks_n_clearances; i++)
        if (*ks_clearance_at(&told, i) >= 0)
            *ks_clearance_at(&clearance, i) = *ks_clearance_at(&told, i);
    return clearance;
}

/* Below this size one pack tells enough (common practice, no source). */
static const double small_litres = 150;

ks_cone_packs ks_order_cones(const ks_order *order, const ks_kiln *kiln)
{
    ks_cone_packs cones = order->rules.cones;
    if (cones.by_size && ks_chamber_litres(kiln) < small_litres) {
        cones.bottom = cones.middle = cones.top = false;
        cones.one = true;
    }
    return cones;
}
