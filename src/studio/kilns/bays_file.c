#include "studio/kilns/kiln_file.h"

#include <math.h>

enum { MOST_BAYS = 24, MOST_SUPPORTS = 32, MOST_SIDE_BY_SIDE = 16, MOST_POSTS = 64 };
enum { MOST_SHELVINGS = 256 }; /* of an arrangement: one support for each of its bays */

static const ks_field bay_fields[] = {
    KS_FIELD(NAME, ks_bay, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("outline"),
    KS_FIELD_KNOWN("supports"),
};

static const ks_field support_fields[] = {
    KS_FIELD_KNOWN("shelves"),
    KS_FIELD_KNOWN("posts"),
    KS_FIELD(BOOL, ks_support, posts_turn, "posts_turn"),
};

static const ks_field laid_fields[] = {
    KS_FIELD_KNOWN("shelf"),
    KS_FIELD(LENGTH, struct ks_laid_shelf, stand.x, "x", .least = -5000, .most = 5000),
    KS_FIELD(LENGTH, struct ks_laid_shelf, stand.y, "y", .least = -5000, .most = 5000),
    KS_FIELD(NUMBER, struct ks_laid_shelf, stand.turn_deg, "turn", .least = -360, .most = 360),
};

static const ks_field arrangement_fields[] = {
    KS_FIELD(NAME, ks_arrangement, id, "id", .required = true, .least = 1, .most = 200),
    KS_FIELD_KNOWN("bays"),
};

static double turn_within_full(double turn_deg)
{
    return turn_deg < 0 ? turn_deg + 360 : turn_deg >= 360 ? turn_deg - 360 : turn_deg;
}

static void read_laid_shelf(ks_reading *reading, const ks_json *node, void *into)
{
    struct ks_laid_shelf *laid = into;
    const ks_kiln *kiln = reading->kiln;
    KS_FIELDS_READ(node, laid_fields, &reading->fields, laid);
    laid->stand.turn_deg = turn_within_full(laid->stand.turn_deg);
    const ks_json *shelf = ks_json_get(node, "shelf");
    ks_id_list shelves = KS_ID_LIST("kind of shelf", kiln->shelves, kiln->n_shelves);
    if (shelf)
        laid->kind = ks_id_refer(shelf, &shelves, reading->fields.err);
    else if (node->kind == KS_JSON_OBJECT)
        ks_json_lacks(node, "shelf", reading->fields.err,
                      "the id of the kind of shelf that lies here");
}

/* By how far some kind of post stands within the chamber at some height; negative: none does. */
static double post_inside_mm(const ks_kiln *kiln, ks_point at, ks_arena *arena)
{
    double best = -INFINITY;
    for (int k = 0; k < kiln->n_posts; k++) {
        ks_outline post =
            ks_outline_place(&kiln->posts[k].outline, (ks_stand){at.x, at.y, 0}, arena);
        for (int i = 0; i < kiln->n_parts; i++)
            best = fmax(best, ks_outline_inside(&post, &kiln->parts[i].outline));
    }
    return best;
}

static void read_post_place(ks_reading *reading, const ks_json *node, void *into)
{
    const ks_kiln *kiln = reading->kiln;
    ks_error *err = reading->fields.err;
    int before = err->count;
    ks_point_read(node, &reading->fields, into);
    if (err->count > before || kiln->n_posts == 0 || kiln->n_parts == 0)
        return;
    double inside = post_inside_mm(kiln, *(ks_point *)into, reading->fields.arena);
    if (inside < -KS_GRID)
        ks_json_fail(node, err,
                     "a post here would reach %.3g mm beyond the chamber's wall; every post stands "
                     "wholly within it: move it inwards by that much",
                     -inside);
}

/* By how much two shelves laid so lie over one another, mm; 0 or less where they do not. */
static double overlap_mm(const ks_kiln *kiln, const struct ks_laid_shelf *a,
                         const struct ks_laid_shelf *b)
{
    ks_arena scratch = {0};
    if (a->kind < 0 || b->kind < 0) /* a slip told already */
        return 0;
    ks_outline one = ks_outline_place(&kiln->shelves[a->kind].outline, a->stand, &scratch);
    ks_outline other = ks_outline_place(&kiln->shelves[b->kind].outline, b->stand, &scratch);
    double overlap = -ks_outline_distance(&one, &other);
    ks_arena_finish(&scratch);
    return overlap;
}

/* Side by side, shelves may touch; plans count in steps of this. */
static const double touching_mm = 0.001;

static void check_side_by_side(ks_reading *reading, const ks_json *node, const ks_support *support)
{
    for (int i = 0; i < support->n_shelves; i++)
        for (int k = 0; k < i; k++) {
            double by = overlap_mm(reading->kiln, &support->shelves[k], &support->shelves[i]);
            if (by > touching_mm)
                ks_json_fail(
                    node, reading->fields.err,
                    "its shelves %d and %d lie over one another by %.3g mm; shelves of one "
                    "support lie side by side: move them apart by that much",
                    k + 1, i + 1, by);
        }
}

static void read_support(ks_reading *reading, const ks_json *node, void *into)
{
    ks_support *support = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    KS_FIELDS_READ(node, support_fields, &reading->fields, support);
    support->shelves = ks_list_read(reading, ks_json_get(node, "shelves"), MOST_SIDE_BY_SIDE,
                                    sizeof *support->shelves, read_laid_shelf, &support->n_shelves);
    support->posts = ks_list_read(reading, ks_json_get(node, "posts"), MOST_POSTS, sizeof(ks_point),
                                  read_post_place, &support->n_posts);
    if (err->count == before && support->n_shelves == 0)
        ks_json_fail(node, err, "no shelf lies on this support; name at least one in \"shelves\"");
    else if (err->count == before && support->n_posts == 0)
        ks_json_fail(node, err, "no post carries this support; give their places in \"posts\"");
    check_side_by_side(reading, node, support);
}

static void read_bay(ks_reading *reading, const ks_json *node, void *into)
{
    ks_bay *bay = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    KS_FIELDS_READ(node, bay_fields, &reading->fields, bay);
    if (node->kind != KS_JSON_OBJECT)
        return;
    const ks_json *outline = ks_json_get(node, "outline");
    if (outline)
        ks_outline_read(outline, false, &reading->fields, &bay->outline);
    else
        ks_json_lacks(node, "outline", err, "where the bay's ware stays, seen from above");
    bay->supports = ks_list_read(reading, ks_json_get(node, "supports"), MOST_SUPPORTS,
                                 sizeof(ks_support), read_support, &bay->n_supports);
    if (err->count == before && bay->n_supports == 0)
        ks_json_lacks(node, "supports", err, "at least one way of shelving the bay");
}

static void read_bay_reference(ks_reading *reading, const ks_json *node, void *into)
{
    const ks_kiln *kiln = reading->kiln;
    ks_id_list bays = KS_ID_LIST("bay", kiln->bays, kiln->n_bays);
    *(int *)into = ks_id_refer(node, &bays, reading->fields.err);
}

static double supports_overlap_mm(const ks_kiln *kiln, const ks_support *a, const ks_support *b)
{
    double most = 0;
    for (int i = 0; i < a->n_shelves; i++)
        for (int k = 0; k < b->n_shelves; k++)
            most = fmax(most, overlap_mm(kiln, &a->shelves[i], &b->shelves[k]));
    return most;
}

/* Bays go up beside one another, each by its own heights, so that any two of their shelves may come
 * to lie at one height. */
static void check_beside(ks_reading *reading, const ks_json *node, const ks_bay *a, const ks_bay *b)
{
    double most = 0;
    for (int i = 0; i < a->n_supports; i++)
        for (int k = 0; k < b->n_supports; k++)
            most = fmax(most, supports_overlap_mm(reading->kiln, &a->supports[i], &b->supports[k]));
    if (most > touching_mm)
        ks_json_fail(node, reading->fields.err,
                     "shelves of the bays \"%.60s\" and \"%.60s\" lie over one another by %.3g mm; "
                     "bays that stand side by side share no place: move their shelves apart",
                     a->id, b->id, most);
}

static void check_bays_apart(ks_reading *reading, const ks_json *node, const ks_arrangement *side)
{
    const ks_kiln *kiln = reading->kiln;
    for (int b = 0; b < side->n_bays; b++)
        for (int c = 0; c < b; c++)
            if (side->bays[b] >= 0 && side->bays[c] >= 0 && side->bays[b] != side->bays[c])
                check_beside(reading, node, &kiln->bays[side->bays[c]], &kiln->bays[side->bays[b]]);
}

static void read_arrangement(ks_reading *reading, const ks_json *node, void *into)
{
    ks_arrangement *arrangement = into;
    ks_error *err = reading->fields.err;
    int before = err->count;
    KS_FIELDS_READ(node, arrangement_fields, &reading->fields, arrangement);
    arrangement->bays = ks_list_read(reading, ks_json_get(node, "bays"), MOST_BAYS, sizeof(int),
                                     read_bay_reference, &arrangement->n_bays);
    if (err->count == before && arrangement->n_bays == 0)
        ks_json_lacks(node, "bays", err, "the bays that stand side by side, at least one");
    double ways = 1;
    for (int b = 0; err->count == before && b < arrangement->n_bays; b++)
        if (arrangement->bays[b] >= 0) /* -1: a bay whose own slip is told already */
            ways *= reading->kiln->bays[arrangement->bays[b]].n_supports;
    if (ways > MOST_SHELVINGS)
        ks_json_fail(
            node, err,
            "its bays can be shelved in %.0f ways together, every support of one with every "
            "support of the others; at most %d: give its bays fewer supports",
            ways, MOST_SHELVINGS);
    else if (err->count == before)
        check_bays_apart(reading, node, arrangement);
}

static void one_bay_arranged(ks_kiln *kiln, ks_arena *arena)
{
    kiln->n_arrangements = 1;
    kiln->arrangements = KS_TAKE(arena, 1, ks_arrangement);
    kiln->arrangements[0] =
        (ks_arrangement){.id = kiln->bays[0].id, .n_bays = 1, .bays = KS_TAKE(arena, 1, int)};
}

/* The place farthest from the shelf's middle, in a direction, where a post stands wholly under it.
 */
static ks_point post_near_edge(const ks_outline *shelf, double post_reach, double towards_deg)
{
    ks_rotation way = ks_rotation_of(towards_deg);
    ks_point middle = ks_outline_centroid(shelf);
    double least = 0, most = 2 * ks_outline_reach(shelf);
    for (int i = 0; i < 40; i++) {
        double along = (least + most) / 2;
        ks_point at = {middle.x + along * way.c, middle.y + along * way.s};
        if (-ks_outline_from_point(shelf, at) >= post_reach)
            least = along;
        else
            most = along;
    }
    return (ks_point){ks_gridded(middle.x + least * way.c), ks_gridded(middle.y + least * way.s)};
}

/* Where no bay is told: the first kind of shelf in the middle, on three posts. False if it does not
 * go into the chamber. */
static bool assume_bay(ks_kiln *kiln, ks_arena *arena)
{
    if (kiln->n_shelves == 0 || kiln->n_posts == 0 || kiln->n_parts == 0 ||
        ks_outline_inside(&kiln->shelves[0].outline, &kiln->parts[0].outline) < 0)
        return false;
    const ks_outline *shelf = &kiln->shelves[0].outline;
    double post_reach = ks_outline_reach(&kiln->posts[0].outline);
    ks_support *support = KS_TAKE(arena, 1, ks_support);
    *support = (ks_support){.n_shelves = 1,
                            .shelves = KS_TAKE(arena, 1, struct ks_laid_shelf),
                            .n_posts = 3,
                            .posts = KS_TAKE(arena, 3, ks_point)};
    for (int i = 0; i < 3; i++)
        support->posts[i] = post_near_edge(shelf, post_reach, 90 + 120 * i);
    kiln->n_bays = 1;
    kiln->bays = KS_TAKE(arena, 1, ks_bay);
    kiln->bays[0] = (ks_bay){"whole", kiln->parts[0].outline, 1, support};
    ks_default_note(&kiln->defaults, "bays", arena);
    return true;
}

void ks_bays_read(ks_reading *reading, const ks_json *node, ks_kiln *kiln)
{
    reading->kiln = kiln;
    ks_error *err = reading->fields.err;
    int before = err->count;
    const ks_json *bays = ks_json_get(node, "bays");
    kiln->bays = ks_named_list_read(reading, bays, "bay", MOST_BAYS, sizeof(ks_bay), read_bay,
                                    &kiln->n_bays);
    kiln->arrangements =
        ks_named_list_read(reading, ks_json_get(node, "arrangements"), "arrangement", MOST_BAYS,
                           sizeof(ks_arrangement), read_arrangement, &kiln->n_arrangements);
    if (err->count > before || kiln->n_arrangements > 0)
        return;
    if (kiln->n_bays == 0)
        assume_bay(kiln, reading->fields.arena);
    if (kiln->n_bays == 1)
        one_bay_arranged(kiln, reading->fields.arena);
    else if (kiln->n_bays == 0)
        ks_json_lacks(node, "bays", err, "where shelves and posts can stand, at least one bay");
    else
        ks_json_lacks(node, "arrangements", err,
                      "which bays stand side by side: [{\"id\": …, \"bays\": [ID, …]}]");
}

static void write_support(ks_json_out *out, const ks_support *support, const ks_kiln *kiln)
{
    ks_out_object_flat(out, NULL);
    ks_out_array(out, "shelves");
    for (int i = 0; i < support->n_shelves; i++) {
        ks_out_object(out, NULL);
        ks_out_text(out, "shelf", kiln->shelves[support->shelves[i].kind].id);
        KS_FIELDS_WRITE(out, laid_fields, 0, &support->shelves[i]);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_points_write(out, "posts", support->posts, support->n_posts);
    ks_out_bool(out, "posts_turn", support->posts_turn);
    ks_out_end(out);
}

void ks_bays_write(ks_json_out *out, const ks_kiln *kiln)
{
    ks_out_array(out, "bays");
    for (int i = 0; i < kiln->n_bays; i++) {
        const ks_bay *bay = &kiln->bays[i];
        ks_out_object(out, NULL);
        KS_FIELDS_WRITE(out, bay_fields, 0, bay);
        ks_outline_write(out, "outline", &bay->outline);
        ks_out_array(out, "supports");
        for (int j = 0; j < bay->n_supports; j++)
            write_support(out, &bay->supports[j], kiln);
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
    ks_out_array(out, "arrangements");
    for (int i = 0; i < kiln->n_arrangements; i++) {
        ks_out_object_flat(out, NULL);
        ks_out_text(out, "id", kiln->arrangements[i].id);
        ks_out_array(out, "bays");
        for (int j = 0; j < kiln->arrangements[i].n_bays; j++)
            ks_out_text(out, NULL, kiln->bays[kiln->arrangements[i].bays[j]].id);
        ks_out_end(out);
        ks_out_end(out);
    }
    ks_out_end(out);
}
