/* Shapes and families with the sizes that they usually have. All figures: common practice, no
 * source. A studio's own measured pots replace them. */
#include "studio/files/sizing.h"

#include "base/fold.h"
#include "base/text.h"

#include <string.h>

const char ks_usual_families[] =
    "[{\"id\": \"espresso cup\", \"diameter\": \"60 mm\", \"height\": \"60 mm\", \"foot\": \"44 "
    "mm\", "
    "\"handle\": true},"
    "{\"id\": \"cup\", \"diameter\": \"85 mm\", \"height\": \"70 mm\", \"foot\": \"50 mm\", "
    "\"handle\": true},"
    "{\"id\": \"mug S\", \"diameter\": \"80 mm\", \"height\": \"85 mm\", \"foot\": \"62 mm\", "
    "\"handle\": true},"
    "{\"id\": \"mug M\", \"diameter\": \"90 mm\", \"height\": \"100 mm\", \"foot\": \"70 mm\", "
    "\"handle\": true},"
    "{\"id\": \"mug L\", \"diameter\": \"100 mm\", \"height\": \"115 mm\", \"foot\": \"78 mm\", "
    "\"handle\": true},"
    "{\"id\": \"tumbler\", \"diameter\": \"80 mm\", \"height\": \"110 mm\", \"foot\": \"60 mm\"},"
    "{\"id\": \"bowl S\", \"diameter\": \"120 mm\", \"height\": \"55 mm\", \"foot\": \"54 mm\"},"
    "{\"id\": \"bowl M\", \"diameter\": \"160 mm\", \"height\": \"70 mm\", \"foot\": \"72 mm\"},"
    "{\"id\": \"bowl L\", \"diameter\": \"240 mm\", \"height\": \"95 mm\", \"foot\": \"105 mm\"},"
    "{\"id\": \"plate S\", \"diameter\": \"180 mm\", \"height\": \"22 mm\", \"foot\": \"110 mm\"},"
    "{\"id\": \"plate M\", \"diameter\": \"220 mm\", \"height\": \"25 mm\", \"foot\": \"135 mm\"},"
    "{\"id\": \"plate L\", \"diameter\": \"270 mm\", \"height\": \"28 mm\", \"foot\": \"165 mm\"},"
    "{\"id\": \"saucer\", \"diameter\": \"140 mm\", \"height\": \"20 mm\", \"foot\": \"77 mm\"},"
    "{\"id\": \"vase M\", \"diameter\": \"130 mm\", \"height\": \"220 mm\", \"foot\": \"80 mm\"}]";

/* Height and foot as shares of the diameter; of a tile the height is in mm. */
static const struct shape {
    const char *word, *single;
    double height, foot;
    bool handle, spout, lid;
} shapes[] = {
    {"bowl", "diameter", 0.43, 0.45, false, false, false},
    {"casserole", "diameter", 0.65, 0.7, false, false, true},
    {"cup", "height", 1.2, 0.6, true, false, false},
    {"jar", "height", 1.25, 0.7, false, false, true},
    {"mug", "height", 1.1, 0.78, true, false, false},
    {"plate", "diameter", 0.11, 0.6, false, false, false},
    {"saucer", "diameter", 0.14, 0.55, false, false, false},
    {"teapot", "height", 0.9, 0.6, true, true, true},
    {"tile", "width", 8, 1, false, false, false},
    {"tumbler", "height", 1.35, 0.75, false, false, false},
    {"vase", "height", 1.7, 0.6, false, false, false},
};
enum { N_SHAPES = sizeof shapes / sizeof *shapes };

static const struct shape *name_shape(const char *word)
{
    for (int i = 0; i < N_SHAPES; i++)
        if (ks_text_alike(shapes[i].word, word))
            return &shapes[i];
    return NULL;
}

const char *ks_shape_single(const char *word)
{
    const struct shape *shape = name_shape(word);
    return shape ? shape->single : NULL;
}

const char *ks_shapes_tell(ks_arena *arena)
{
    ks_text told = {.arena = arena};
    for (int i = 0; i < N_SHAPES; i++)
        ks_text_print(&told, "%s%s",
                      i == 0              ? ""
                      : i == N_SHAPES - 1 ? " or "
                                          : ", ",
                      shapes[i].word);
    return ks_text_end(&told);
}

/* In mm; 0 where it is not told, or not so that it can be understood. */
static double tell_length(const ks_field_reader *reader, const ks_json *piece, const char *key)
{
    const ks_json *node = ks_json_get(piece, key);
    double mm = 0;
    if (node && node->text &&
        ks_quantity_parse(KS_LENGTH, node->text, reader->units.length, &mm) != NULL)
        return 0;
    return mm;
}

static void note(ks_sizing *out, const char *what, ks_arena *arena)
{
    out->assumed = *out->assumed ? ks_arena_print(arena, "%s, %s", out->assumed, what) : what;
}

static void fill_size(const ks_field_reader *reader, ks_json *piece, const char *key, double mm,
                      ks_sizing *out)
{
    if (mm <= 0 || ks_json_get(piece, key))
        return;
    ks_json_cell(piece, key, ks_arena_print(reader->arena, "%.0f mm", round(mm)), piece->line,
                 piece->column);
    note(out, key, reader->arena);
}

static void fill_truth(ks_json *piece, const char *key, bool there)
{
    if (!there || ks_json_get(piece, key))
        return;
    ks_json *node = ks_json_cell(piece, key, NULL, piece->line, piece->column);
    node->kind = KS_JSON_BOOL;
    node->truth = true;
}

static void fill_tile(const ks_field_reader *reader, const struct shape *shape, ks_json *piece,
                      ks_sizing *out)
{
    fill_size(reader, piece, "depth", tell_length(reader, piece, "width"), out);
    fill_size(reader, piece, "width", tell_length(reader, piece, "depth"), out);
    fill_size(reader, piece, "height", shape->height, out);
}

bool ks_shape_fill(const ks_field_reader *reader, const char *word, ks_json *piece, ks_sizing *out)
{
    const struct shape *shape = name_shape(word);
    if (!shape)
        return ks_text_alike(word, "round") || ks_text_alike(word, "rectangular");
    if (strcmp(shape->single, "width") == 0) {
        fill_tile(reader, shape, piece, out);
        return true;
    }
    if (!ks_json_get(piece, "width") && !ks_json_get(piece, "profile") &&
        !ks_json_get(piece, "outline") && !ks_json_get(piece, "parts")) {
        fill_size(reader, piece, "diameter", tell_length(reader, piece, "height") / shape->height,
                  out);
        double diameter = tell_length(reader, piece, "diameter");
        fill_size(reader, piece, "height", diameter * shape->height, out);
        fill_size(reader, piece, "foot", diameter * shape->foot, out);
    }
    fill_truth(piece, "handle", shape->handle);
    fill_truth(piece, "spout", shape->spout);
    if (shape->lid)
        note(out, "lid on", reader->arena);
    return true;
}
