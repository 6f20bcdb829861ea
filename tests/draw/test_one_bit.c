/* Pinned sheets on a printer that knows black and white only. */
#include "check.h"
#include "draw/sample.h"
#include "draw/scene/paint.h"
#include "draw/sheets/sheets.h"

#include <cairo.h>
#include <stdlib.h>

#define DOTS_PER_MM 8.0 /* 203 dpi: a label printer or a fax */

typedef struct {
    int width, height;
    bool *black;
} one_bit;

static one_bit rendered(ks_arena *arena, const ks_scene *scene)
{
    one_bit out = {(int)(scene->width_mm * DOTS_PER_MM), (int)(scene->height_mm * DOTS_PER_MM),
                   NULL};
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, out.width, out.height);
    cairo_t *cr = cairo_create(surface);
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
    cairo_scale(cr, DOTS_PER_MM, DOTS_PER_MM);
    assert_int_equal(ks_paint_ready(scene->type, NULL), KS_OK);
    ks_paint(cr, scene);
    cairo_surface_flush(surface);
    const unsigned char *bytes = cairo_image_surface_get_data(surface);
    int stride = cairo_image_surface_get_stride(surface);
    out.black = KS_TAKE(arena, out.width * out.height, bool);
    for (int y = 0; y < out.height; y++)
        for (int x = 0; x < out.width; x++) {
            const unsigned char *p = bytes + y * stride + 4 * x; /* blue, green, red */
            out.black[y * out.width + x] = 0.114 * p[0] + 0.587 * p[1] + 0.299 * p[2] < 128;
        }
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    return out;
}

/* The scene's words alone, on white. */
static ks_scene words_of(ks_arena *arena, const ks_scene *scene)
{
    ks_scene words = *scene;
    words.n = 0;
    words.marks = KS_TAKE(arena, scene->n, ks_mark);
    for (int i = 0; i < scene->n; i++)
        if (scene->marks[i].kind == KS_WORDS)
            words.marks[words.n++] = scene->marks[i];
    return words;
}

/* Dots of a word's box that differ, as a part of the word's own dots. */
static double blurred(const one_bit *all, const one_bit *alone, ks_box box)
{
    int unlike = 0, own = 0;
    for (int y = (int)(box.y0 * DOTS_PER_MM); y < (int)(box.y1 * DOTS_PER_MM); y++)
        for (int x = (int)(box.x0 * DOTS_PER_MM); x < (int)(box.x1 * DOTS_PER_MM); x++) {
            int at = y * all->width + x;
            if (x < 0 || y < 0 || x >= all->width || y >= all->height)
                continue;
            unlike += all->black[at] != alone->black[at];
            own += alone->black[at];
        }
    return own > 0 ? (double)unlike / own : 0;
}

/* Hatching and dashed feet may cross a number, but they leave its shape. */
static void words_are_read_in_black_and_white(ks_arena *arena, const ks_scene *scene)
{
    const double most = 0.5;
    ks_scene words = words_of(arena, scene);
    one_bit all = rendered(arena, scene), alone = rendered(arena, &words);
    for (int i = 0; i < words.n; i++) {
        const ks_mark *mark = &words.marks[i];
        double part = mark->look == KS_LOOK_INVERSE ? 0 : blurred(&all, &alone, ks_mark_box(mark));
        if (part > most)
            fail_msg("%s: \"%s\" is not read at 1 bit: %.2f of its dots", scene->name, mark->text,
                     part);
    }
}

/* "3-5, 9" has 4; "C1" has C1. */
static bool marks_name(const char *marks, const char *mark)
{
    while (*marks) {
        char *end;
        long first = strtol(marks, &end, 10), last = first;
        size_t length = strcspn(marks, ",");
        if (end != marks && strncmp(end, "–", strlen("–")) == 0)
            last = strtol(end + strlen("–"), &end, 10);
        if ((strlen(mark) == length && strncmp(mark, marks, length) == 0) ||
            (first > 0 && atol(mark) >= first && atol(mark) <= last))
            return true;
        marks += length;
        marks += strspn(marks, ", ");
    }
    return false;
}

static const char *all_words(ks_arena *arena, const ks_scene *scene)
{
    ks_text out = {.arena = arena};
    for (int i = 0; i < scene->n; i++)
        for (const char *at = scene->marks[i].kind == KS_WORDS ? scene->marks[i].text : ""; *at;
             at++)
            if (*at != ' ')
                ks_text_add_n(&out, at, 1);
    return ks_text_end(&out);
}

static const char *packed(ks_arena *arena, const char *text)
{
    ks_text out = {.arena = arena};
    for (; *text; text++)
        if (*text != ' ')
            ks_text_add_n(&out, text, 1);
    return ks_text_end(&out);
}

static const ks_scene *sheet_named(const ks_sheets *sheets, const char *name)
{
    for (int i = 0; i < sheets->n; i++)
        if (strcmp(sheets->sheets[i].scene->name, name) == 0)
            return sheets->sheets[i].scene;
    fail_msg("no sheet \"%s\"", name);
    return NULL;
}

/* A line of the level's own sheet has the piece's number and its owner's letters. */
static void pieces_tell_their_owner(ks_arena *arena, const ks_sheets *sheets, const ks_facts *facts,
                                    const ks_tier_facts *tier)
{
    int n;
    const ks_level_line *lines = ks_level_lines(facts, tier, &n, arena);
    const char *sheet = all_words(arena, sheet_named(sheets, tier->file_name));
    for (int i = 0; i < facts->n_items; i++) {
        const ks_item *item = &facts->items[i];
        if (item->owner < 0 || tier->levels[0] != &facts->levels[item->level])
            continue;
        bool told = false;
        for (int k = 0; k < n; k++)
            told |= marks_name(lines[k].mark, item->mark) &&
                    strstr(lines[k].words, facts->owners[item->owner].words) &&
                    strstr(sheet, packed(arena, lines[k].words));
        if (!told)
            fail_msg("%s: piece %s does not tell whose it is", tier->name, item->mark);
    }
}

static void each_pinned_sheet_is_read_in_black_and_white_and_tells_whose_piece_it_is(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 8; seed++) {
        ks_arena arena = {0};
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.levels = 2;
        wish.pieces = 20;
        wish.members = 2 + 3 * (int)seed; /* all fills and all hatchings */
        wish.with_form = seed % 4 == 0;
        ks_draw_options options = ks_draw_default();
        ks_sheets sheets;
        assert_int_equal(
            ks_sheets_begin(&sheets, sample_plan(&arena, wish), &options, &arena, NULL), KS_OK);
        assert_int_equal(ks_sheets_make(&sheets, NULL), KS_OK);
        for (int i = 0; i < sheets.n; i++)
            words_are_read_in_black_and_white(&arena, sheets.sheets[i].scene);
        const ks_facts *facts = sheets.sheets[0].facts;
        assert_true(facts->n_owners > 1 && facts->n_tiers == 2);
        for (int t = 0; t < facts->n_tiers; t++)
            pieces_tell_their_owner(&arena, &sheets, facts, &facts->tiers[t]);
        ks_type_destroy(sheets.type);
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_pinned_sheet_is_read_in_black_and_white_and_tells_whose_piece_it_is),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
