#include "studio/reading/tags.h"

#include "base/fold.h"

static uint32_t tag_bit(ks_reading *reading, const ks_json *node)
{
    ks_order *order = reading->order;
    ks_id_list list = {"tag", order->tags, sizeof *order->tags, order->n_tags};
    int place = ks_id_place_alike(&list, node->text);
    if (place >= 0)
        return UINT32_C(1) << place;
    if (order->n_tags == KS_MOST_TAGS) {
        ks_json_fail(node, reading->fields.err, "found %s as the %dth kind of tag; %d are the most",
                     ks_json_found(node).words, KS_MOST_TAGS + 1, KS_MOST_TAGS);
        return 0;
    }
    if (!order->tags)
        order->tags = KS_TAKE(reading->fields.arena, KS_MOST_TAGS, const char *);
    order->tags[order->n_tags] = ks_text_compose(node->text, reading->fields.arena);
    return UINT32_C(1) << order->n_tags++;
}

uint32_t ks_tags_read(ks_reading *reading, const ks_json *node)
{
    uint32_t tags = 0;
    if (!node || ks_array_check(node, 0, KS_MOST_TAGS, reading->fields.err) != KS_OK)
        return 0;
    for (int i = 0; i < node->n; i++) {
        if (node->items[i].kind == KS_JSON_TEXT && *node->items[i].text)
            tags |= tag_bit(reading, &node->items[i]);
        else
            ks_json_fail(&node->items[i], reading->fields.err,
                         "found %s; a tag is a word in quotes",
                         ks_json_found(&node->items[i]).words);
    }
    return tags;
}

uint32_t ks_tag_refer(ks_reading *reading, const ks_json *node)
{
    const ks_order *order = reading->order;
    ks_id_list list = {"tag", order->tags, sizeof *order->tags, order->n_tags};
    int place = ks_id_refer(node, &list, reading->fields.err);
    return place < 0 ? 0 : UINT32_C(1) << place;
}

void ks_tags_write(ks_json_out *out, const char *key, const ks_order *order, uint32_t tags)
{
    if (tags == 0)
        return;
    ks_out_array_flat(out, key);
    for (int i = 0; i < order->n_tags; i++)
        if (tags >> i & 1)
            ks_out_text(out, NULL, order->tags[i]);
    ks_out_end(out);
}

void ks_cones_write(ks_json_out *out, const char *key, const char *low, const char *high)
{
    if (!low && !high)
        return;
    ks_out_array_flat(out, key);
    ks_out_text(out, NULL, low ? low : ks_cone_name(0));
    ks_out_text(out, NULL, high ? high : ks_cone_name(KS_CONES_KNOWN - 1));
    ks_out_end(out);
}
