#include "studio/files/piece_file.h"

#include "base/money_text.h"
#include "base/words.h"
#include "studio/terms/labour_file.h"
#include "studio/files/named_only.h"
#include "studio/names.h"
#include "studio/files/plan_file.h"
#include "studio/files/sizing.h"
#include "studio/files/stacking_file.h"
#include "studio/reading/tags.h"
#include "studio/wish.h"

#include <math.h>
#include <string.h>

#define ENTRY(sort, member, ...) KS_FIELD(sort, ks_piece_entry, member, __VA_ARGS__)
static const ks_field piece_fields[] = {
    ENTRY(NAME, piece.id, "id", .required = true, .least = 1, .most = 200),
    ENTRY(TEXT, piece.name, "name", .most = 400),
    ENTRY(TEXT, piece.owner, "owner", .most = 200),
    KS_FIELD_KNOWN("count"),
    ENTRY(WORD, piece.role, "role", .words = KS_ROLE_WORDS),
    ENTRY(WORD, piece.stage, "stage", .words = KS_STAGE_WORDS),
    ENTRY(WORD, piece.pose, "pose", .words = KS_POSE_WORDS),
    KS_FIELD_KNOWN("clay"),
    KS_FIELD_KNOWN("glaze"),
    KS_FIELD_KNOWN("glazes"),
    KS_FIELD_KNOWN("size"),
    KS_FIELD_KNOWN("shape"),
    ENTRY(LENGTH, diameter_mm, "diameter", .least = 1, .most = 5000),
    ENTRY(LENGTH, width_mm, "width", .least = 1, .most = 5000),
    ENTRY(LENGTH, depth_mm, "depth", .least = 1, .most = 5000),
    ENTRY(LENGTH, height_mm, "height", .least = 1, .most = 5000),
    ENTRY(LENGTH, corner_mm, "corner", .most = 2500),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD_KNOWN("profile"),
    KS_FIELD_KNOWN("widths"),
    KS_FIELD_KNOWN("photo"),
    KS_FIELD_KNOWN("photo_side"),
    KS_FIELD_KNOWN("section"),
    KS_FIELD_KNOWN("parts"),
    KS_FIELD_KNOWN("foot"),
    KS_FIELD_KNOWN("handle"),
    KS_FIELD_KNOWN("spout"),
    KS_FIELD_KNOWN("setter"),
    KS_FIELD_KNOWN("joints"),
    ENTRY(NAME, piece.joined_to, "joined_to", .least = 1, .most = 200),
    KS_FIELD_KNOWN("turn"),
    KS_FIELD_KNOWN("on"),
    KS_FIELD_KNOWN("stack"),
    ENTRY(NAME, piece.lid_of, "lid_of", .least = 1, .most = 200),
    ENTRY(MASS, told_mass_kg, "mass", .least = 0.001, .most = 1000),
    ENTRY(MASS, wet_ball_kg, "wet_ball", .least = 0.001, .most = 1000),
    ENTRY(MASS, piece.clay_wet_kg, "clay_wet", .least = 0.001, .most = 1000),
    ENTRY(MASS, piece.weighed_kg, "weighed", .least = 0.001, .most = 1000),
    ENTRY(MASS, piece.weighed_again_kg, "weighed_again", .least = 0.001, .most = 1000),
    ENTRY(LENGTH, piece.tape_mm, "tape", .least = 0.1, .most = 100),
    ENTRY(LENGTH, piece.wall_mm, "wall", .least = 0.5, .most = 500),
    ENTRY(LENGTH, floor_mm, "floor", .least = 0.5, .most = 1000),
    KS_FIELD_KNOWN("closed"),
    ENTRY(MONEY, piece.price_minor, "price", .most = 1e12),
    KS_FIELD_KNOWN("labour"),
    ENTRY(BOOL, piece.must_go, "must_go"),
    ENTRY(BOOL, piece.locked_out, "wait"),
    ENTRY(NUMBER, piece.waited, "waited", .most = 10000),
    ENTRY(TEXT, piece.set, "set", .most = 200),
    ENTRY(DATE, piece.due_day, "due"),
    KS_FIELD_KNOWN("tags"),
    KS_FIELD_KNOWN("cones"),
    ENTRY(TEXT, piece.atmosphere, "atmosphere", .most = 20),
    ENTRY(TEXT, piece.schedule, "schedule", .most = 200),
    ENTRY(LENGTH, piece.around_mm, "around", .most = 500),
    ENTRY(BOOL, piece.dries_in_kiln, "dries_in_kiln"),
    ENTRY(BOOL, piece.runny, "runny"),
    ENTRY(BOOL, piece.glazed, "glazed"),
    ENTRY(WHOLE, piece.earlier_firings, "earlier_firings", .least = 0, .most = 100),
    KS_FIELD_KNOWN("keep"),
    ENTRY(NUMBER, piece.surface_mm2, "surface_mm2", .least = 0, .most = 1e9),
    ENTRY(TEXT, piece.defaults, "defaults", .most = 400),
    ENTRY(TEXT, piece.as_entered, "as_entered", .most = 4096),
};

static void read_glazes(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    ks_error *err = reading->fields.err;
    const ks_json *one = ks_json_get(node, "glaze"), *several = ks_json_get(node, "glazes");
    if (one && several)
        ks_json_fail(node, err, "found both \"glaze\" and \"glazes\"; name them all in \"glazes\"");
    if (one && one->kind == KS_JSON_ARRAY)
        several = one;
    else if (one) {
        piece->glazes = KS_TAKE(reading->fields.arena, 1, int);
        piece->glazes[0] = ks_glaze_refer(reading, one);
        piece->n_glazes = 1;
    }
    if (!several || ks_array_check(several, 0, 20, err) != KS_OK)
        return;
    piece->n_glazes = several->n;
    piece->glazes = KS_TAKE(reading->fields.arena, several->n, int);
    for (int i = 0; i < several->n; i++)
        piece->glazes[i] = ks_glaze_refer(reading, &several->items[i]);
}

static void read_clay(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_json *clay = ks_json_get(node, "clay");
    piece->clay = -1;
    if (clay)
        piece->clay = ks_clay_refer(reading, clay);
    else if (reading->told_clays == 1) {
        piece->clay = 0;
        ks_default_note(&piece->defaults, "clay", reading->fields.arena);
    }
}

static void check_owner(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_order *order = reading->order;
    ks_id_list list = KS_ID_LIST("member", order->members, order->n_members);
    const ks_json *owner = ks_json_get(node, "owner");
    if (!owner || owner->kind != KS_JSON_TEXT || !*owner->text || order->n_members == 0)
        return;
    int member = ks_id_refer(owner, &list, reading->fields.err);
    if (member >= 0)
        piece->owner = order->members[member].id;
}

static void check_schedule(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_order *order = reading->order;
    ks_id_list list = KS_ID_LIST("schedule", order->schedules, order->n_schedules);
    const ks_json *schedule = ks_json_get(node, "schedule");
    if (!schedule || schedule->kind != KS_JSON_TEXT || !*schedule->text)
        return;
    int place = ks_id_refer(schedule, &list, reading->fields.err);
    if (place >= 0)
        piece->schedule = order->schedules[place].id;
}

/* What the glazes bring with them: runs, tags, and being wet glass on the outside. Fired ware is
 * taken to carry glaze that melts again. */
static void glazes_felt(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    if (!ks_json_get(node, "glazed"))
        piece->glazed = piece->stage == KS_GLAZED || piece->stage == KS_FIRED;
    for (int i = 0; i < piece->n_glazes; i++) {
        if (piece->glazes[i] < 0)
            continue;
        const ks_glaze *glaze = &reading->order->glazes[piece->glazes[i]];
        piece->tags |= glaze->tags;
        if (!ks_json_get(node, "runny"))
            piece->runny |= glaze->runny;
    }
}

static void narrow(const char **low, const char **high, const char *other_low,
                   const char *other_high)
{
    if (other_low && (!*low || ks_cone_rank(other_low) > ks_cone_rank(*low)))
        *low = other_low;
    if (other_high && (!*high || ks_cone_rank(other_high) < ks_cone_rank(*high)))
        *high = other_high;
}

/* Its own wish, narrowed by body and glazes; where those contradict each other, the wish alone. */
static void cones_narrowed(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    const ks_order *order = reading->order;
    const char *low = piece->cone_low, *high = piece->cone_high;
    if (piece->clay >= 0)
        narrow(&low, &high, order->clays[piece->clay].cone_low,
               order->clays[piece->clay].cone_high);
    for (int i = 0; i < piece->n_glazes; i++)
        if (piece->glazes[i] >= 0)
            narrow(&low, &high, order->glazes[piece->glazes[i]].cone_low,
                   order->glazes[piece->glazes[i]].cone_high);
    if (low && high && ks_cone_rank(low) > ks_cone_rank(high)) {
        ks_warn(reading, node,
                "its body, its glazes and its own wish leave no cone at which it "
                "could be fired");
        return;
    }
    piece->cone_low = low;
    piece->cone_high = high;
}

static void fill_firings(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    static const int usual[] = {
        [KS_LEATHER] = 0, [KS_DRY] = 0, [KS_BISQUE] = 1, [KS_GLAZED] = 1, [KS_FIRED] = 2};
    if (ks_json_get(node, "earlier_firings"))
        return;
    piece->earlier_firings = usual[piece->stage];
    if (piece->earlier_firings > 0)
        ks_default_note(&piece->defaults, "earlier firings", reading->fields.arena);
}

static void read_references(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    ks_error *err = reading->fields.err;
    read_clay(reading, node, piece);
    read_glazes(reading, node, piece);
    check_owner(reading, node, piece);
    check_schedule(reading, node, piece);
    ks_word_check(node, "atmosphere", KS_ATMOSPHERE_WORDS, err);
    piece->tags = ks_tags_read(reading, ks_json_get(node, "tags"));
    ks_cones_read(ks_json_get(node, "cones"), &piece->cone_low, &piece->cone_high, err);
    glazes_felt(reading, node, piece);
    ks_wishes_read(reading, node, piece);
    if (ks_json_get(node, "setter"))
        ks_setter_read(reading, ks_json_get(node, "setter"), piece);
    if (ks_json_get(node, "mass") && ks_json_get(node, "wet_ball"))
        ks_json_fail(node, err, "found both \"mass\" and \"wet_ball\"; one of them is enough");
}

/* A number of copies, or that there may be as many as fit. */
static void read_count(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    static const ks_field number = {.kind = KS_FIELD_WHOLE, .least = 1, .most = 10000};
    double value;
    if (!node)
        return;
    const char *word = node->kind == KS_JSON_TEXT ? node->text : "1";
    if (ks_words_find("fill|as many as fit", word, node->from_cell) >= 0) {
        piece->fill = true;
        piece->count = 0;
    } else if (ks_number_parse(word, &value) != NULL) {
        ks_json_fail(node, reading->fields.err,
                     "found %s; write how many there are, or \"fill\" for as many as fit",
                     ks_json_found(node).words);
    } else {
        ks_field_value(node, &number, &reading->fields, &piece->count);
    }
}

/* What is told at several heights is oval seen from above, or square. */
static void read_section(ks_reading *reading, const ks_json *node, ks_piece_entry *entry)
{
    const ks_json *section = ks_json_get(node, "section");
    ks_error *err = reading->fields.err;
    if (section && !ks_json_get(node, "widths") && !ks_json_get(node, "photo"))
        ks_json_fail(section, err, "goes with \"widths\" or \"photo\" alone");
    if (ks_json_get(node, "photo_side") && !ks_json_get(node, "photo"))
        ks_json_fail(ks_json_get(node, "photo_side"), err, "goes with \"photo\" alone");
    ks_word_check(node, "section", "oval|square", err);
    entry->square = section && section->kind == KS_JSON_TEXT &&
                    ks_words_find("square", section->text, section->from_cell) == 0;
}

static void read_closed(ks_reading *reading, const ks_json *node, ks_piece_entry *entry)
{
    static const ks_field truth = {.kind = KS_FIELD_BOOL};
    const ks_json *closed = ks_json_get(node, "closed");
    if (closed)
        ks_field_value(closed, &truth, &reading->fields, &entry->closed);
}

/* Ware that only fills is promised to nobody. */
static void check_fill(ks_reading *reading, const ks_json *node, const ks_piece *piece)
{
    static const char *const promises[] = {"must_go", "set", "due", "keep", "on"};
    bool made[] = {piece->must_go, *piece->set != '\0', piece->due_day != KS_NO_DAY,
                   piece->keep.kept || ks_has_wish(&piece->wish), piece->on_id != NULL};
    for (size_t i = 0; i < sizeof made / sizeof *made && piece->fill; i++)
        if (made[i])
            ks_json_fail(node, reading->fields.err,
                         "found \"%s\" of ware counted as \"fill\", of which as many go in as "
                         "fit and maybe none; count it, or take \"%s\" off it",
                         promises[i], promises[i]);
}

#define SAME_PART 0.002 /* what scales and a day's weather do; common practice, no source */
#define SAME_KG 0.002

static bool weighed_dry(const ks_piece *piece)
{
    double before = piece->weighed_kg, after = piece->weighed_again_kg;
    return fabs(before - after) <= fmax(SAME_KG, SAME_PART * before);
}

/* A glaze that runs carries ware along that touches it, and glues to what stands near. */
static const double runny_around_mm = 15; /* common practice, no source */

static bool stands_on(const ks_piece *piece, ks_part_kind kind)
{
    for (int p = 0; p < piece->n_parts; p++)
        if (piece->parts[p].kind == kind)
            return true;
    return false;
}

/* Runny ware has room of its own, unless a cookie catches what runs. Fired again it runs anew, over
 * a foot that glaze has reached already. */
static void mind_runny(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    bool on_cookie = stands_on(piece, KS_PART_COOKIE);
    if (piece->runny && !on_cookie && !ks_json_get(node, "around")) {
        piece->around_mm = runny_around_mm;
        ks_default_note(&piece->defaults, "around", reading->fields.arena);
    }
    if (piece->runny && piece->stage == KS_FIRED && !on_cookie && !stands_on(piece, KS_PART_STILT))
        ks_warn(reading, node,
                "its glaze is runny and it is fired again on no stilt or cookie; give it a "
                "\"setter\": {\"kind\": \"cookie\"}, or it may stay on the shelf");
}

/* Two weighings a day apart know better than a stage told by hand: light colour is not dry. */
static void judge_weighings(ks_reading *reading, const ks_json *node, ks_piece *piece)
{
    bool once = !isnan(piece->weighed_kg), again = !isnan(piece->weighed_again_kg);
    if (once != again) {
        ks_json_fail(node, reading->fields.err,
                     "found one weighing, \"%s\"; tell \"%s\" as well, at least a day apart",
                     once ? "weighed" : "weighed_again", once ? "weighed_again" : "weighed");
        return;
    }
    if (once && (piece->stage == KS_LEATHER || piece->stage == KS_DRY))
        piece->stage = weighed_dry(piece) ? KS_DRY : KS_LEATHER;
}

static void write_count(ks_json_out *out, const ks_piece *piece)
{
    if (piece->fill)
        ks_out_text(out, "count", "fill");
    else
        ks_out_whole(out, "count", piece->count);
}

static const ks_piece usual_piece = {.name = "",
                                     .table = -1,
                                     .owner = "",
                                     .count = 1,
                                     .stage = KS_GLAZED,
                                     .on_copy = 1,
                                     .wall_mm = KS_NOT_TOLD,
                                     .tape_mm = KS_NOT_TOLD,
                                     .clay_wet_kg = KS_NOT_TOLD,
                                     .weighed_kg = KS_NOT_TOLD,
                                     .weighed_again_kg = KS_NOT_TOLD,
                                     .surface_mm2 = KS_NOT_TOLD,
                                     .price_minor = KS_NO_MONEY,
                                     .waited = KS_NOT_TOLD,
                                     .set = "",
                                     .due_day = KS_NO_DAY,
                                     .atmosphere = "",
                                     .schedule = "",
                                     .defaults = "",
                                     .as_entered = "",
                                     .understood = {.shape = "", .family = ""}};

void ks_piece_read(ks_reading *reading, const ks_json *told, void *into)
{
    int before = reading->fields.err->count;
    ks_sizing sizing;
    const ks_json *node = ks_piece_sized(reading, told, &sizing);
    ks_piece_entry entry = {.piece = usual_piece,
                            .node = node,
                            .diameter_mm = KS_NOT_TOLD,
                            .width_mm = KS_NOT_TOLD,
                            .depth_mm = KS_NOT_TOLD,
                            .height_mm = KS_NOT_TOLD,
                            .corner_mm = KS_NOT_TOLD,
                            .told_mass_kg = KS_NOT_TOLD,
                            .wet_ball_kg = KS_NOT_TOLD,
                            .floor_mm = KS_NOT_TOLD};
    ks_piece *piece = &entry.piece;
    KS_FIELDS_READ(node, piece_fields, &reading->fields, &entry);
    read_count(reading, ks_json_get(node, "count"), piece);
    judge_weighings(reading, node, piece);
    if (isnan(entry.told_mass_kg) && isnan(entry.wet_ball_kg))
        entry.told_mass_kg = piece->weighed_again_kg;
    if (isnan(piece->clay_wet_kg))
        piece->clay_wet_kg = entry.wet_ball_kg;
    piece->file_line = node->line;
    piece->understood.family = sizing.family;
    if (*sizing.assumed)
        ks_default_note(&piece->defaults, sizing.assumed, reading->fields.arena);
    if (node->kind == KS_JSON_OBJECT) {
        read_references(reading, node, piece);
        read_section(reading, node, &entry);
        read_closed(reading, node, &entry);
        ks_joints_read(reading, node, piece);
        piece->work = ks_labour_read(reading, ks_json_get(node, "labour"), &piece->n_work);
    }
    check_fill(reading, node, piece);
    if (!*piece->name && piece->id)
        piece->name = piece->id;
    if (reading->fields.err->count == before && ks_piece_build(reading, &entry)) {
        cones_narrowed(reading, node, piece);
        mind_runny(reading, node, piece);
        fill_firings(reading, node, piece);
        if (!*piece->as_entered)
            piece->as_entered =
                ks_piece_as_entered(told, &reading->fields.units, reading->fields.arena);
        ks_piece_guess(reading, &entry);
        ks_joints_check(reading, node, piece);
        ks_ways_read(reading, node, piece);
    }
    *(ks_piece *)into = *piece;
}

static void write_references(ks_json_out *out, const ks_order *order, const ks_piece *piece)
{
    if (piece->clay >= 0)
        ks_out_text(out, "clay", order->clays[piece->clay].id);
    if (piece->n_glazes > 0) {
        ks_out_array_flat(out, "glazes");
        for (int i = 0; i < piece->n_glazes; i++)
            ks_out_text(out, NULL, order->glazes[piece->glazes[i]].id);
        ks_out_end(out);
    }
    ks_tags_write(out, "tags", order, piece->tags);
    ks_cones_write(out, "cones", piece->cone_low, piece->cone_high);
}

void ks_piece_write(ks_json_out *out, const ks_order *order, const ks_piece *piece)
{
    ks_piece_entry entry = {.piece = *piece,
                            .diameter_mm = KS_NOT_TOLD,
                            .width_mm = KS_NOT_TOLD,
                            .depth_mm = KS_NOT_TOLD,
                            .height_mm = KS_NOT_TOLD,
                            .corner_mm = KS_NOT_TOLD,
                            .told_mass_kg = piece->bare_mass_kg,
                            .wet_ball_kg = KS_NOT_TOLD,
                            .floor_mm = KS_NOT_TOLD};
    ks_out_object(out, NULL);
    KS_FIELDS_WRITE(out, piece_fields, ks_currency_digits(order->currency), &entry);
    write_count(out, piece);
    write_references(out, order, piece);
    ks_parts_write(out, "parts", piece->n_parts, piece->parts);
    if (piece->has_setter)
        ks_setter_write(out, order, &piece->setter);
    ks_joints_write(out, piece);
    ks_labour_write(out, "labour", piece->n_work, piece->work);
    ks_wishes_write(out, piece);
    ks_ways_write(out, piece);
    ks_out_end(out);
}
