#include "studio/reading/load_times.h"
#include "studio/kilns/kiln_file.h"
#include "studio/names.h"
#include "studio/files/plan_file.h"

enum { MOST_PLACED = 20000, MOST_STEPS = 50000 };

static const ks_field load_fields[] = {
    KS_FIELD(NAME, ks_load, kiln_id, "kiln", .required = true, .least = 1, .most = 200),
    KS_FIELD(DATE, ks_load, day, "date"),
    KS_FIELD_KNOWN("times"),
    KS_FIELD_KNOWN("firing"),
    KS_FIELD_KNOWN("chamber"),
    KS_FIELD_KNOWN("clearance"),
    KS_FIELD_KNOWN("keep_outs"),
    KS_FIELD_KNOWN("bays"),
    KS_FIELD_KNOWN("posts"),
    KS_FIELD_KNOWN("levels"),
    KS_FIELD_KNOWN("steps"),
};

static const ks_field load_firing_fields[] = {
    KS_FIELD(TEXT, ks_firing, cone, "cone", .required = true, .most = 20),
    KS_FIELD(TEXT, ks_firing, atmosphere, "atmosphere", .required = true, .most = 20),
    KS_FIELD(TEXT, ks_firing, schedule, "schedule", .required = true, .most = 200),
    KS_FIELD(TEXT, ks_firing, id, "id", .most = 200),
    KS_FIELD(NUMBER, ks_firing, top_temp_c, "top", .least = 0, .most = 1900),
};

static const ks_field chamber_fields[] = {
    KS_FIELD(LENGTH, ks_load, height_mm, "height", .required = true, .least = 1, .most = 5000),
    KS_FIELD_KNOWN("parts"),
};

static const ks_field bay_fields[] = {
    KS_FIELD(NAME, ks_load_bay, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("outline"),
};

static const ks_field post_fields[] = {
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(LENGTH, ks_post, from_mm, "from", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, ks_post, to_mm, "to", .required = true, .least = -5000, .most = 5000),
    KS_FIELD_KNOWN("heights"),
};

static const ks_field level_fields[] = {
    KS_FIELD_KNOWN("name"),
    KS_FIELD(TEXT, ks_level, bay, "bay", .required = true, .most = 200),
    KS_FIELD(LENGTH, ks_level, z_mm, "z", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, ks_level, gap_mm, "gap", .required = true, .least = -5000, .most = 5000),
    KS_FIELD_KNOWN("shelves"),
    KS_FIELD_KNOWN("pieces"),
};

static const ks_field shelf_fields[] = {
    KS_FIELD(NAME, ks_shelf, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD(LENGTH, ks_shelf, thickness_mm, "thickness", .required = true, .most = 500),
};

static const ks_field placed_fields[] = {
    KS_FIELD(NAME, ks_placed, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(WHOLE, ks_placed, copy, "copy", .required = true),
    KS_FIELD(TEXT, ks_placed, owner, "owner", .required = true, .most = 200),
    KS_FIELD(WORD, ks_placed, role, "role", .required = true, .words = KS_ROLE_WORDS),
    KS_FIELD(WORD, ks_placed, pose, "pose", .required = true, .words = KS_POSE_WORDS),
    KS_FIELD(LENGTH, ks_placed, stand.x, "x", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, ks_placed, stand.y, "y", .required = true, .least = -5000, .most = 5000),
    KS_FIELD(NUMBER, ks_placed, stand.turn_deg, "turn", .required = true, .least = -360,
             .most = 360),
    KS_FIELD_KNOWN("on"),
    KS_FIELD_KNOWN("way"),
    KS_FIELD(BOOL, ks_placed, glazed, "glazed", .required = true),
    KS_FIELD(LENGTH, ks_placed, around_mm, "around", .required = true, .most = 1000),
    KS_FIELD(LENGTH, ks_placed, top_mm, "top", .required = true, .most = 5000),
    KS_FIELD_KNOWN("parts"),
};

static const ks_field on_fields[] = {
    KS_FIELD(NAME, ks_placed, on_id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD(WHOLE, ks_placed, on_copy, "copy", .required = true),
};

static const ks_field step_fields[] = {
    KS_FIELD(WORD, ks_step, put, "put", .required = true, .words = KS_PUT_WORDS),
    KS_FIELD_KNOWN("ref"),
};

static const ks_field reference_fields[] = {
    KS_FIELD(WHOLE, ks_step, level, "level", .required = true, .least = 0, .most = 1000),
    KS_FIELD(WHOLE, ks_step, item, "item", .least = 1, .most = MOST_PLACED),
    KS_FIELD_KNOWN("id"),
    KS_FIELD_KNOWN("copy"),
};

const ks_json *ks_needed(ks_reading *reading, const ks_json *node, const char *key,
                         const char *remedy)
{
    const ks_json *member = ks_json_get(node, key);
    if (!member && node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, key, reading->fields.err, remedy);
    return member;
}

static void outline_needed(ks_reading *reading, const ks_json *node, bool around, ks_outline *out)
{
    const ks_json *outline = ks_needed(reading, node, "outline", "where it is, in chamber axes");
    *out = ks_outline_disc(0, 0, 1, reading->fields.arena);
    if (outline)
        ks_outline_read(outline, around, &reading->fields, out);
}

static void read_bay(ks_reading *reading, const ks_json *node, void *into)
{
    ks_load_bay *bay = into;
    KS_FIELDS_READ(node, bay_fields, &reading->fields, bay);
    outline_needed(reading, node, false, &bay->outline);
}

static void read_post(ks_reading *reading, const ks_json *node, void *into)
{
    ks_post *post = into;
    KS_FIELDS_READ(node, post_fields, &reading->fields, post);
    outline_needed(reading, node, true, &post->outline);
    const ks_json *heights = ks_needed(reading, node, "heights", "the posts stacked to make it");
    if (!heights || ks_array_check(heights, 1, 2, reading->fields.err) != KS_OK)
        return;
    post->n_heights = heights->n;
    for (int i = 0; i < heights->n; i++)
        post->heights_mm[i] = ks_length_read(&heights->items[i], 0, 5000, &reading->fields);
}

static void read_shelf(ks_reading *reading, const ks_json *node, void *into)
{
    ks_shelf *shelf = into;
    const ks_kiln *kiln = reading->kiln;
    KS_FIELDS_READ(node, shelf_fields, &reading->fields, shelf);
    outline_needed(reading, node, false, &shelf->outline);
    shelf->kind = -1;
    if (!kiln || !shelf->id)
        return;
    ks_id_list kinds = KS_ID_LIST("kind of shelf", kiln->shelves, kiln->n_shelves);
    shelf->kind = ks_id_place(&kinds, shelf->id);
}

/* Absent, it is no way: on a shelf, or on another piece in a plan that says no more. */
static void read_way(ks_reading *reading, const ks_json *node, ks_placed *placed)
{
    static const ks_field word = {.kind = KS_FIELD_WORD, .words = KS_WAY_WORDS};
    int way = 0;
    if (node && ks_field_value(node, &word, &reading->fields, &way) == KS_OK)
        placed->way = (ks_way)(way + KS_NEST);
}

static void read_placed(ks_reading *reading, const ks_json *node, void *into)
{
    ks_placed *placed = into;
    const ks_order *order = reading->order;
    placed->owner = "";
    KS_FIELDS_READ(node, placed_fields, &reading->fields, placed);
    const ks_json *on = ks_json_get(node, "on");
    if (on && on->kind != KS_JSON_NULL)
        KS_FIELDS_READ(on, on_fields, &reading->fields, placed);
    read_way(reading, ks_json_get(node, "way"), placed);
    placed->parts = ks_list_read(reading, ks_needed(reading, node, "parts", "its blocks by height"),
                                 KS_MOST_PARTS, sizeof(ks_part), ks_part_read, &placed->n_parts);
    ks_id_list pieces = KS_ID_LIST("piece", order->pieces, order->n_pieces);
    placed->piece = placed->id ? ks_id_place(&pieces, placed->id) : -1;
}

/* What the file repeats for people: it must be right in kind, but decides nothing. */
static void read_for_people(ks_reading *reading, const ks_json *node, const char *key,
                            const ks_field *field)
{
    const ks_json *told = ks_json_get(node, key);
    union {
        const char *text;
        int whole;
    } unused;
    if (told)
        (void)ks_field_value(told, field, &reading->fields, &unused);
}

static const ks_field name_field = {.kind = KS_FIELD_NAME}, copy_field = {.kind = KS_FIELD_WHOLE};

static void read_level(ks_reading *reading, const ks_json *node, void *into)
{
    ks_level *level = into;
    level->bay = "";
    read_for_people(reading, node, "name", &name_field);
    KS_FIELDS_READ(node, level_fields, &reading->fields, level);
    level->shelves =
        ks_list_read(reading, ks_needed(reading, node, "shelves", "those that lie here"),
                     KS_MOST_SHELVES, sizeof(ks_shelf), read_shelf, &level->n_shelves);
    level->pieces =
        ks_list_read(reading, ks_needed(reading, node, "pieces", "what stands here, or []"),
                     MOST_PLACED, sizeof(ks_placed), read_placed, &level->n_pieces);
}

static void read_reference(ks_reading *reading, const ks_json *node, ks_step *step)
{
    KS_FIELDS_READ(node, reference_fields, &reading->fields, step);
    read_for_people(reading, node, "id", &name_field);
    read_for_people(reading, node, "copy", &copy_field);
}

static void read_step(ks_reading *reading, const ks_json *node, void *into)
{
    ks_step *step = into;
    KS_FIELDS_READ(node, step_fields, &reading->fields, step);
    const ks_json *reference = ks_needed(reading, node, "ref", "{\"level\": n, \"item\": n}");
    if (reference)
        read_reference(reading, reference, step);
    step->level--;
    step->item--;
}

static void steps_within(ks_reading *reading, const ks_json *list, const ks_load *load)
{
    for (int i = 0; i < load->n_steps; i++) {
        const ks_step *step = &load->steps[i];
        const ks_level *level =
            step->level >= 0 && step->level < load->n_levels ? &load->levels[step->level] : NULL;
        int items = !level ? 0 : step->put == KS_PUT_SHELF ? level->n_shelves : level->n_pieces;
        bool good = step->put == KS_PUT_POSTS ? step->level < load->n_levels
                                              : step->item >= 0 && step->item < items;
        if (!good)
            ks_json_fail(&list->items[i], reading->fields.err,
                         "it refers to level %d, item %d, which this load has not", step->level + 1,
                         step->item + 1);
    }
}

static void read_load_firing(ks_reading *reading, const ks_json *load_node, ks_load *load)
{
    ks_error *err = reading->fields.err;
    const ks_json *node = ks_needed(reading, load_node, "firing", "how the load is fired");
    load->firing = (ks_firing){.cone = "", .atmosphere = "oxidation", .schedule = ""};
    if (!node)
        return;
    KS_FIELDS_READ(node, load_firing_fields, &reading->fields, &load->firing);
    ks_word_check(node, "atmosphere", KS_ATMOSPHERE_WORDS, err);
    if (*load->firing.cone && ks_cone_rank(load->firing.cone) < 0)
        ks_cone_read(ks_json_get(node, "cone"), err);
}

static void read_load_chamber(ks_reading *reading, const ks_json *load_node, ks_load *load)
{
    const ks_json *node = ks_needed(reading, load_node, "chamber", "its height and parts");
    if (!node)
        return;
    KS_FIELDS_READ(node, chamber_fields, &reading->fields, load);
    load->parts = ks_list_read(reading, ks_needed(reading, node, "parts", "the chamber by height"),
                               100, sizeof(ks_chamber_part), ks_chamber_part_read, &load->n_parts);
}

static void read_load_clearance(ks_reading *reading, const ks_json *load_node, ks_load *load)
{
    const ks_json *node = ks_needed(reading, load_node, "clearance", "all that a load keeps");
    for (int i = 0; node && i < ks_n_clearances; i++)
        ks_needed(reading, node, ks_clearances[i].name, "a plan tells them all");
    ks_clearance_read(reading, node, &load->clearance);
}

void ks_load_read(ks_reading *reading, const ks_json *node, void *into)
{
    ks_load *load = into;
    const ks_order *order = reading->order;
    int before = reading->fields.err->count;
    load->day = KS_NO_DAY;
    KS_FIELDS_READ(node, load_fields, &reading->fields, load);
    ks_id_list kilns = KS_ID_LIST("kiln", order->kilns, order->n_kilns);
    load->kiln = load->kiln_id ? ks_id_place(&kilns, load->kiln_id) : -1;
    reading->kiln = load->kiln < 0 ? NULL : &order->kilns[load->kiln];
    ks_load_times_read(reading, ks_json_get(node, "times"), &load->times);
    read_load_firing(reading, node, load);
    read_load_chamber(reading, node, load);
    read_load_clearance(reading, node, load);
    load->keep_outs = ks_list_read(reading, ks_json_get(node, "keep_outs"), 100,
                                   sizeof(ks_keep_out), ks_keep_out_read, &load->n_keep_outs);
    load->bays = ks_list_read(reading, ks_needed(reading, node, "bays", "its columns of levels"),
                              100, sizeof(ks_load_bay), read_bay, &load->n_bays);
    load->posts =
        ks_list_read(reading, ks_needed(reading, node, "posts", "the load's posts, or []"), 10000,
                     sizeof(ks_post), read_post, &load->n_posts);
    load->levels =
        ks_list_read(reading, ks_needed(reading, node, "levels", "the load's levels, or []"),
                     KS_MOST_LEVELS * 16, sizeof(ks_level), read_level, &load->n_levels);
    const ks_json *steps = ks_needed(reading, node, "steps", "the order of loading, or []");
    load->steps =
        ks_list_read(reading, steps, MOST_STEPS, sizeof(ks_step), read_step, &load->n_steps);
    if (reading->fields.err->count == before)
        steps_within(reading, steps, load);
}
