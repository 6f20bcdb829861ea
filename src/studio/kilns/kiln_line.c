#include "studio/kilns/kiln_line.h"

#include "base/data/json_out.h"
#include "base/units.h"
#include "studio/names.h"

#include <string.h>

enum { MOST_POSTS = 60, MOST_SHELVES = 200 };

typedef struct {
    double width_mm, depth_mm, height_mm; /* depth: front to back; how deep without a height */
    int sides, shelves, loading, loads;
} kiln_line;

static const ks_field line_fields[] = {
    KS_FIELD(LENGTH, kiln_line, width_mm, "width", .required = true, .least = 100, .most = 5000),
    KS_FIELD(LENGTH, kiln_line, depth_mm, "depth", .required = true, .least = 100, .most = 5000),
    KS_FIELD(LENGTH, kiln_line, height_mm, "height", .least = 100, .most = 5000),
    KS_FIELD(WHOLE, kiln_line, sides, "sides", .least = 3, .most = 24),
    KS_FIELD(WHOLE, kiln_line, shelves, "shelves", .least = 1, .most = MOST_SHELVES),
    KS_FIELD(WORD, kiln_line, loading, "loading", .words = KS_LOADING_WORDS),
    KS_FIELD_KNOWN("posts"),
    KS_FIELD_KNOWN("kiln"),
    KS_FIELD(WHOLE, kiln_line, loads, "loads", .least = 1, .most = KS_MOST_LOADS),
    KS_FIELD_KNOWN("dates"),
    KS_FIELD_KNOWN("firings"),
    KS_FIELD_KNOWN("slots"),
};

static const ks_field post_count = {.kind = KS_FIELD_WHOLE, .least = 1, .most = 1000};

/* Lengths that post sets have, and how many of each a studio has: common practice, no source. */
static const struct {
    double height_mm;
    int count;
} usual_posts[] = {{13, 6},   {25, 12},  {38, 9},   {51, 12}, {64, 12}, {76, 12},
                   {102, 12}, {127, 12}, {152, 12}, {178, 9}, {203, 9}};

bool ks_kiln_line_is(const ks_json *entry)
{
    return entry->kind == KS_JSON_OBJECT && !ks_json_get(entry, "chamber") &&
           (ks_json_get(entry, "width") || ks_json_get(entry, "depth"));
}

static bool is_box(const kiln_line *line)
{
    return line->height_mm > 0 || line->sides == 4;
}

static double tall_mm(const kiln_line *line)
{
    return line->height_mm > 0 ? line->height_mm : line->depth_mm;
}

/* Shelves end so far from the wall; 23 mm in a kiln of 580 mm. */
static double shelf_margin_mm(const kiln_line *line)
{
    return round(fmin(fmax(0.04 * line->width_mm, 12), 25));
}

static void write_outline(ks_json_out *out, const kiln_line *line, double margin_mm)
{
    double across = line->width_mm - 2 * margin_mm;
    double back = (line->height_mm > 0 ? line->depth_mm : line->width_mm) - 2 * margin_mm;
    ks_out_object_flat(out, "outline");
    if (is_box(line) || line->sides == 0) {
        ks_out_array(out, is_box(line) ? "rectangle" : "circle");
        ks_out_number(out, NULL, is_box(line) ? across : 0);
        ks_out_number(out, NULL, is_box(line) ? back : 0);
        if (!is_box(line))
            ks_out_number(out, NULL, across / 2);
        ks_out_end(out);
    } else {
        ks_out_whole(out, "regular", line->sides);
        ks_out_number(out, "across", across);
    }
    ks_out_end(out);
}

static void write_post(ks_json_out *out, const kiln_line *line, double height_mm, int count)
{
    double side = line->width_mm < 350 ? 25 : 38;
    ks_out_object_flat(out, NULL);
    ks_out_number(out, "height", height_mm);
    ks_out_object_flat(out, "outline");
    ks_out_array(out, "rectangle");
    ks_out_number(out, NULL, side);
    ks_out_number(out, NULL, side);
    ks_out_end(out);
    ks_out_end(out);
    ks_out_whole(out, "count", count);
    ks_out_end(out);
}

/* `{"25 mm": 12, "50 mm": 12}`: how many of each length. */
static void tell_posts(ks_reading *reading, const ks_json *posts, const kiln_line *line,
                       ks_json_out *out)
{
    ks_error *err = reading->fields.err;
    if (posts->kind != KS_JSON_OBJECT || posts->n == 0 || posts->n > MOST_POSTS) {
        ks_json_fail(posts, err,
                     "found %s; write how many of each length: {\"25 mm\": 12, \"51 mm\": 12}",
                     ks_json_found(posts).words);
        return;
    }
    for (int i = 0; i < posts->n; i++) {
        double height = 0;
        int count = 0;
        const char *fault = ks_quantity_parse(KS_LENGTH, posts->items[i].key,
                                              reading->fields.units.length, &height);
        if (!fault && !(height >= 5 && height <= 1000))
            fault = "a post is from 5 to 1000 mm long";
        if (fault)
            ks_json_fail(&posts->items[i], err, "found \"%.60s\"; %s", posts->items[i].key, fault);
        else if (ks_field_value(&posts->items[i], &post_count, &reading->fields, &count) == KS_OK)
            write_post(out, line, height, count);
    }
}

static void posts_usual(const kiln_line *line, ks_json_out *out)
{
    for (size_t i = 0; i < sizeof usual_posts / sizeof *usual_posts; i++)
        if (usual_posts[i].height_mm < tall_mm(line) / 2)
            write_post(out, line, usual_posts[i].height_mm, usual_posts[i].count);
}

static int shelves_of(const kiln_line *line)
{
    return line->shelves > 0 ? line->shelves : (int)fmax(1, floor(tall_mm(line) / 130));
}

static void write_furniture(ks_reading *reading, const ks_json *entry, const kiln_line *line,
                            ks_json_out *out)
{
    const ks_json *posts = ks_json_get(entry, "posts");
    ks_out_array(out, "shelves");
    ks_out_object_flat(out, NULL);
    ks_out_text(out, "id", "shelf");
    ks_out_text(out, "material", "cordierite");
    write_outline(out, line, shelf_margin_mm(line));
    ks_out_number(out, "thickness", line->width_mm > 620 ? 19 : 16);
    ks_out_whole(out, "count", shelves_of(line));
    ks_out_end(out);
    ks_out_end(out);
    ks_out_array(out, "posts");
    if (posts)
        tell_posts(reading, posts, line, out);
    else
        posts_usual(line, out);
    ks_out_end(out);
}

static void write_chamber(const kiln_line *line, ks_json_out *out)
{
    ks_out_object(out, "chamber");
    ks_out_number(out, "height", tall_mm(line));
    write_outline(out, line, 0);
    ks_out_end(out);
    if (line->loading == KS_FRONT_LOADER) {
        ks_out_object_flat(out, "opening");
        ks_out_number(out, "width", line->width_mm);
        ks_out_number(out, "height", tall_mm(line));
        ks_out_end(out);
    }
}

static const char *assumed_words(const ks_json *entry, const kiln_line *line, ks_arena *arena)
{
    bool shelves = line->shelves > 0, posts = ks_json_get(entry, "posts");
    return ks_arena_print(
        arena,
        "%s%s%sshelves of cordierite %.0f mm off the wall and %d mm thick, posts %d mm square, "
        "no sensor or peephole in the way",
        ks_json_get(entry, "loading") ? "" : "top loader, ",
        shelves ? "" : ks_arena_print(arena, "%d shelves, ", shelves_of(line)),
        posts ? "" : "a usual set of posts, ", shelf_margin_mm(line),
        line->width_mm > 620 ? 19 : 16, line->width_mm < 350 ? 25 : 38);
}

static const char *kiln_id(const ks_json *entry, const kiln_line *line, ks_arena *arena)
{
    const ks_json *id = ks_json_get(entry, "kiln");
    return id && id->kind == KS_JSON_TEXT && *id->text
               ? id->text
               : ks_arena_print(arena, "kiln %.0f x %.0f mm", line->width_mm, line->depth_mm);
}

const ks_json *ks_kiln_line_read(ks_reading *reading, const ks_json *entry, int *loads)
{
    ks_arena *arena = reading->fields.arena;
    ks_error *err = reading->fields.err;
    int before = err->count;
    kiln_line line = {0};
    KS_FIELDS_READ(entry, line_fields, &reading->fields, &line);
    *loads = line.loads;
    if (err->count == before && line.height_mm > 0 && line.sides != 0 && line.sides != 4)
        ks_json_fail(entry, err,
                     "found a height beside %d sides; width, depth and height tell a box: leave "
                     "\"sides\" out, or the height (\"depth\" is then how deep it is)",
                     line.sides);
    ks_json_out out = {.text.arena = arena};
    ks_out_object(&out, NULL);
    ks_out_text(&out, "format", "kilnstow-kiln/1");
    ks_out_text(&out, "id", kiln_id(entry, &line, arena));
    ks_out_object_flat(&out, "units");
    ks_out_text(&out, "length", "mm");
    ks_out_end(&out);
    ks_out_text(&out, "loading", ks_word_at(KS_LOADING_WORDS, line.loading).text);
    write_chamber(&line, &out);
    write_furniture(reading, entry, &line, &out);
    ks_out_text(&out, "defaults", assumed_words(entry, &line, arena));
    ks_out_end(&out);
    const char *text = ks_out_done(&out);
    const ks_json *kiln = NULL;
    if (err->count > before || ks_json_parse(entry->file, text, strlen(text), arena, &kiln, err))
        return NULL;
    ks_warn(reading, entry,
            "the kiln \"%.60s\" is given by its size alone; assumed are: %s, and power and "
            "lining by its size",
            kiln_id(entry, &line, arena), assumed_words(entry, &line, arena));
    return kiln;
}
