#include "check.h"
#include "draw/sample.h"
#include "draw/sheets/level_sheet.h"
#include "draw/sheets/sheets.h"

#include <stdlib.h>

/* Words may touch, but not cover each other. */
#define TOUCH 0.02

static ks_box grown(ks_box box, double by)
{
    return (ks_box){box.x0 - by, box.y0 - by, box.x1 + by, box.y1 + by};
}

static void no_words_overlap_or_leave(const ks_scene *scene)
{
    ks_box frame = {0, 0, scene->width_mm, scene->height_mm};
    for (int i = 0; i < scene->n; i++) {
        if (scene->marks[i].kind != KS_WORDS)
            continue;
        ks_box a = grown(ks_mark_box(&scene->marks[i]), -TOUCH);
        if (a.x0 < frame.x0 || a.y0 < frame.y0 || a.x1 > frame.x1 || a.y1 > frame.y1)
            fail_msg("%s: \"%s\" leaves the frame", scene->name, scene->marks[i].text);
        for (int k = 0; k < i; k++)
            if (scene->marks[k].kind == KS_WORDS &&
                ks_boxes_meet(a, grown(ks_mark_box(&scene->marks[k]), -TOUCH)))
                fail_msg("%s: \"%s\" lies over \"%s\"", scene->name, scene->marks[i].text,
                         scene->marks[k].text);
    }
}

static void no_line_leaves(const ks_scene *scene)
{
    for (int i = 0; i < scene->n; i++) {
        const ks_mark *mark = &scene->marks[i];
        if (mark->kind != KS_SHAPE || mark->clipped)
            continue;
        for (int k = 0; k < mark->path.n; k++) {
            int points = mark->path.at[k].verb == 'Z' ? 0 : mark->path.at[k].verb == 'C' ? 3 : 1;
            for (int j = 0; j < points; j++) {
                ks_point p = mark->path.at[k].p[j];
                if (p.x < -0.01 || p.y < -0.01 || p.x > scene->width_mm + 0.01 ||
                    p.y > scene->height_mm + 0.01)
                    fail_msg("%s: a %s leaves the frame", scene->name, ks_looks[mark->look].name);
            }
        }
    }
}

static void no_leader_runs_through_words(const ks_scene *scene)
{
    for (int i = 0; i < scene->n; i++) {
        const ks_mark *line = &scene->marks[i];
        if (line->kind != KS_SHAPE || line->look != KS_LOOK_LEADER || line->path.n != 2)
            continue;
        for (int k = 0; k < scene->n; k++)
            if (scene->marks[k].kind == KS_WORDS &&
                ks_segment_meets_box(line->path.at[0].p[0], line->path.at[1].p[0],
                                     grown(ks_mark_box(&scene->marks[k]), -TOUCH)))
                fail_msg("%s: a leader runs through \"%s\"", scene->name, scene->marks[k].text);
    }
}

/* Shelves, walls and dimensions, in the drawing of a form in its kiln. */
static void no_outline_runs_through_words(const ks_scene *scene)
{
    for (int i = 0; i < scene->n; i++) {
        const ks_mark *line = &scene->marks[i];
        bool told =
            line->kind == KS_SHAPE && (line->look == KS_LOOK_SHELF ||
                                       line->look == KS_LOOK_CHAMBER || line->look == KS_LOOK_SIZE);
        for (int s = 1; told && s < line->path.n; s++)
            for (int k = 0; k < scene->n && line->path.at[s].verb == 'L'; k++)
                if (scene->marks[k].kind == KS_WORDS &&
                    ks_segment_meets_box(line->path.at[s - 1].p[0], line->path.at[s].p[0],
                                         ks_mark_box(&scene->marks[k])))
                    fail_msg("%s: a %s runs through \"%s\"", scene->name, ks_looks[line->look].name,
                             scene->marks[k].text);
    }
}

static void judge(const ks_scene *scene)
{
    if (strncmp(scene->name, "room", 4) == 0)
        no_outline_runs_through_words(scene);
    no_words_overlap_or_leave(scene);
    no_line_leaves(scene);
    if (strncmp(scene->name, "level", 5) == 0)
        no_leader_runs_through_words(scene);
}

static ks_sheets made(ks_arena *arena, const ks_plan *plan, ks_draw_options *options)
{
    ks_sheets sheets;
    ks_error err = {0};
    if (ks_sheets_begin(&sheets, plan, options, arena, &err) != KS_OK)
        fail_msg("%s", err.text);
    if (ks_sheets_make(&sheets, &err) != KS_OK)
        fail_msg("%s", err.text);
    return sheets;
}

static int judged(sample_wish wish, unsigned kinds)
{
    ks_arena arena = {0};
    ks_draw_options options = ks_draw_default();
    options.sheets = kinds;
    options.date = "2026-11-25";
    ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
    for (int i = 0; i < sheets.n; i++)
        judge(sheets.sheets[i].scene);
    int warnings = sheets.n_warnings;
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
    return warnings;
}

static void on_a_thousand_levels_no_label_covers_another_or_leaves_the_frame(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 1000; seed++) {
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.levels = 1;
        wish.pieces = (int)(seed * 7 % 40);
        wish.members = (int)(seed % 9);
        wish.inside_mm = 300 + (double)(seed * 37 % 700);
        wish.least_mm = 25 + (double)(seed % 50);
        wish.most_mm = wish.least_mm + 20 + (double)(seed * 11 % 150);
        wish.with_form = seed % 3 == 0 && wish.inside_mm > 450;
        wish.front = seed % 5 == 0;
        wish.unit = seed % 4 == 0 ? "in" : seed % 4 == 1 ? "cm" : "mm";
        judged(wish, KS_SHEET_LEVELS);
    }
}

static void on_all_other_sheets_too(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 120; seed++) {
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.levels = (int)(seed % 13);
        wish.pieces = (int)(seed * 5 % 23);
        wish.members = (int)(seed % 31);
        wish.front = seed % 5 == 0;
        wish.halves = seed % 4 == 0;
        wish.unit = seed % 3 == 0 ? "in" : "mm";
        judged(wish, (KS_SHEET_ALL & ~(unsigned)KS_SHEET_LEVELS) | KS_SHEET_ROOM);
    }
}

static void no_words_are_cut(const ks_scene *scene)
{
    for (int i = 0; i < scene->n; i++) {
        const char *text = scene->marks[i].kind == KS_WORDS ? scene->marks[i].text : "";
        size_t length = strlen(text), mark = strlen("…");
        if (length >= mark && strcmp(text + length - mark, "…") == 0)
            fail_msg("%s: \"%s\" is cut", scene->name, text);
    }
}

static double disc_width(const ks_mark *mark)
{
    double least = INFINITY, most = -INFINITY;
    for (int i = 0; i < mark->path.n; i++)
        if (mark->path.at[i].verb == 'M' || mark->path.at[i].verb == 'C') {
            int last = mark->path.at[i].verb == 'C' ? 2 : 0;
            least = fmin(least, mark->path.at[i].p[last].x);
            most = fmax(most, mark->path.at[i].p[last].x);
        }
    return most - least;
}

static bool says(const ks_scene *scene, const char *words)
{
    for (int i = 0; i < scene->n; i++)
        if (scene->marks[i].kind == KS_WORDS && strstr(scene->marks[i].text, words))
            return true;
    return false;
}

/* Every ring from 40 to 150 mm is on one of two sheets, as wide as it says: full size. */
static void rings_are_as_wide_as_they_say(const ks_sheets *sheets)
{
    bool seen[16] = {false};
    for (int s = 0; s < sheets->n; s++) {
        const ks_scene *scene = sheets->sheets[s].scene;
        for (int i = 0; i + 1 < scene->n; i++) {
            if (strncmp(scene->name, "measure-rings", 13) != 0 ||
                scene->marks[i].look != KS_LOOK_FOOT)
                continue;
            double width = disc_width(&scene->marks[i]);
            check_near(atof(scene->marks[i + 1].text), width, 1e-9);
            seen[(int)round(width / 10)] = true;
            assert_true(width != 90 || says(scene, "cup, mug M"));
        }
    }
    for (int k = 4; k <= 15; k++)
        assert_true(seen[k]);
}

/* What is cut along is not hidden under a shelf that covers all of the sheet. */
static void the_frame_is_over_the_drawing(const ks_scene *mat)
{
    int frame = -1, shelf = -1;
    for (int i = 0; i < mat->n; i++) {
        frame = mat->marks[i].look == KS_LOOK_RULE && frame < 0 ? i : frame;
        shelf = mat->marks[i].look == KS_LOOK_SHELF ? i : shelf;
    }
    assert_true(frame > shelf);
}

/* Twelve pieces stand on tiles that together are as large as the shelf, none without a number. */
static void rings_mats_and_cautions_are_sheets_of_their_own(void **state)
{
    (void)state;
    ks_arena arena = {0};
    sample_wish wish = sample_small();
    wish.with_form = false;
    ks_draw_options options = ks_draw_default();
    options.sheets = KS_SHEET_MORE;
    options.level = 2;
    ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
    const ks_facts *facts = sheets.sheets[0].facts;
    int mats = 0, walls = 0;
    bool seen[100] = {false};
    for (int i = 0; i < sheets.n; i++) {
        const ks_scene *scene = sheets.sheets[i].scene;
        judge(scene);
        no_words_are_cut(scene);
        walls += strcmp(scene->name, "wall") == 0;
        mats += strncmp(scene->name, "mat-2-", 6) == 0;
        if (strncmp(scene->name, "mat-2-", 6) == 0)
            the_frame_is_over_the_drawing(scene);
        for (int k = 0; k < scene->n && strncmp(scene->name, "mat", 3) == 0; k++)
            if (scene->marks[k].kind == KS_WORDS && scene->marks[k].look == KS_LOOK_NUMBER)
                seen[atoi(scene->marks[k].text) % 100] = true;
    }
    for (int i = 0; i < facts->n_items; i++)
        if (facts->items[i].level == 1 && facts->items[i].owner >= 0)
            assert_true(seen[atoi(facts->items[i].mark)]);
    assert_int_equal(walls, 1);
    assert_true(mats >= 9 && sheets.n == mats + walls + 3);
    rings_are_as_wide_as_they_say(&sheets);
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

static void members_sheets_hold_only_their_own_numbers(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 60; seed++) {
        ks_arena arena = {0};
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.pieces = 20;
        ks_draw_options options = ks_draw_default();
        options.member = "m2";
        ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
        const ks_facts *facts = sheets.sheets[0].facts;
        int theirs = 0;
        for (int i = 0; i < facts->n_items; i++)
            theirs += facts->items[i].owner >= 0 &&
                      strcmp(facts->owners[facts->items[i].owner].id, "m2") == 0;
        if (theirs <= 6 && facts->n_levels <= 4)
            assert_int_equal(sheets.n, 1); /* list and drawings on one */
        for (int i = 0; i < sheets.n; i++) {
            judge(sheets.sheets[i].scene);
            for (int k = 0; k < sheets.sheets[i].scene->n; k++) {
                const ks_mark *mark = &sheets.sheets[i].scene->marks[k];
                for (int p = 0; mark->piece > 0 && p < facts->n_items; p++)
                    if (facts->items[p].owner >= 0 && facts->items[p].number == mark->piece)
                        assert_string_equal(facts->owners[facts->items[p].owner].id, "m2");
            }
        }
        ks_type_destroy(sheets.type);
        ks_arena_finish(&arena);
    }
}

static void a_hundred_and_fifty_pieces_each_have_their_number(void **state)
{
    (void)state;
    sample_wish wish = sample_small();
    wish.levels = 1;
    wish.pieces = 170;
    wish.least_mm = 20;
    wish.most_mm = 30;
    wish.inside_mm = 760;
    wish.with_form = false;
    ks_arena arena = {0};
    ks_draw_options options = ks_draw_default();
    options.sheets = KS_SHEET_LEVELS;
    ks_plan *plan = sample_plan(&arena, wish);
    assert_true(plan->loads[0].levels[0].n_pieces >= 150);
    ks_sheets sheets = made(&arena, plan, &options);
    for (int i = 0; i < sheets.n_warnings; i++)
        print_error("%s\n", sheets.warnings[i]);
    assert_int_equal(sheets.n_warnings, 0);
    bool seen[200] = {false};
    for (int i = 0; i < sheets.n; i++) {
        judge(sheets.sheets[i].scene);
        for (int k = 0; k < sheets.sheets[i].scene->n; k++) {
            const ks_mark *mark = &sheets.sheets[i].scene->marks[k];
            if (mark->kind == KS_WORDS && mark->look == KS_LOOK_NUMBER && mark->piece > 0)
                seen[mark->piece] = true;
        }
    }
    for (int i = 1; i < 150; i++)
        assert_true(seen[i]);
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

/* Overview, a sheet for each tier and one record up to a hundred pieces: nothing more is pinned up.
 */
static void a_load_has_two_sheets_more_than_tiers(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 40; seed++) {
        ks_arena arena = {0};
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.levels = 1 + (int)(seed % 6);
        wish.pieces = 60 / wish.levels; /* each a kind of its own */
        wish.members = (int)(seed % 9);
        wish.halves = seed % 2 == 0;
        wish.front = seed % 3 == 0;
        wish.with_form = false;
        wish.unit = seed % 4 == 0 ? "in" : "mm";
        ks_draw_options options = ks_draw_default();
        ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
        const ks_facts *facts = sheets.sheets[0].facts;
        assert_true(facts->n_tiers > 0 && facts->n_tiers <= facts->n_levels);
        for (int i = 0; i < sheets.n; i++) {
            judge(sheets.sheets[i].scene);
            no_words_are_cut(sheets.sheets[i].scene);
        }
        if (sheets.n > facts->n_tiers + 2)
            fail_msg("seed %d: %d sheets for %d tiers, the last: %s", (int)seed, sheets.n,
                     facts->n_tiers, sheets.sheets[sheets.n - 1].scene->name);
        ks_type_destroy(sheets.type);
        ks_arena_finish(&arena);
    }
}

/* Names of sixty letters, and what a class leaves to its adult: the list narrows the drawing before
 * it turns a page. */
static void long_names_turn_no_page(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= 20; seed++) {
        ks_arena arena = {0};
        sample_wish wish = sample_small();
        wish.seed = seed;
        wish.levels = 4;
        wish.pieces = 9; /* each a kind of its own */
        wish.with_form = false;
        ks_draw_options options = ks_draw_default();
        options.for_class = true;
        options.sheets = KS_SHEET_LEVELS;
        wish.name = "tall jar with a lid, thrown in two halves and joined wet, no 9";
        ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
        for (int i = 0; i < sheets.n; i++)
            no_words_are_cut(sheets.sheets[i].scene);
        if (sheets.n != sheets.sheets[0].facts->n_tiers)
            fail_msg("seed %d: %d sheets, the last: %s", (int)seed, sheets.n,
                     sheets.sheets[sheets.n - 1].scene->name);
        ks_type_destroy(sheets.type);
        ks_arena_finish(&arena);
    }
}

/* Twenty numbers of one kind beside a narrow drawing: they stand over their words, and both are
 * read in the column. */
static void long_marks_leave_room_for_their_words(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const char *marks = "2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30";
    const ks_level_line lines[] = {{"1", "bowl; clear", "", "", false},
                                   {marks, "cup for the opening; clear", "heavy", "", false}};
    ks_draw_options options = ks_draw_default();
    ks_sheets sheets;
    assert_int_equal(
        ks_sheets_begin(&sheets, sample_plan(&arena, sample_small()), &options, &arena, NULL),
        KS_OK);
    for (double width = 40; width < 200; width += 10) {
        ks_scene *scene = ks_scene_create(&arena, sheets.type, width, 180);
        double marks_mm[2];
        for (int i = 0; i < 2; i++)
            marks_mm[i] = ks_scene_measure(scene, KS_LOOK_NUMBER, KS_SMALL, lines[i].mark);
        const ks_level_list list = {scene, 2, lines, marks_mm, 0.5, "key", 5, false};
        assert_int_equal(ks_level_list_draw(&list, 0, 1, (ks_box){0, 0, width, 180}), 3);
        no_words_overlap_or_leave(scene);
        assert_true(says(scene, "bowl"));
        assert_true(says(scene, "cup"));
        assert_true(says(scene, "heavy"));
        assert_true(says(scene, "30"));
        assert_int_equal(scene->n_cut, 0);
    }
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

/* Shelves, a piece over 2 kg and a level deeper than 400 mm are an adult's, a mug at the rim is
 * not; glazes are named by what is in them. Without a class nothing is marked. */
static void a_class_is_told_what_its_adult_does(void **state)
{
    (void)state;
    ks_arena arena = {0};
    sample_wish wish = sample_small();
    wish.with_form = false;
    ks_plan *plan = sample_plan(&arena, wish);
    ks_order *order = (ks_order *)plan->order;
    ks_material lead = {.id = "frit", .name = "lead frit", .caution = "poisonous"};
    struct ks_recipe_line line = {.material = 0, .parts = 100};
    order->n_materials = 1;
    order->materials = &lead;
    order->glazes[0].n_lines = 1;
    order->glazes[0].lines = &line;
    ks_facts *facts = ks_facts_of(plan, 0, "0", false, &arena);
    ks_item *item = facts->items;
    while (!item->piece)
        item++;
    ks_piece heavy = *item->piece, light = heavy;
    heavy.mass_kg = 2.5;
    light.mass_kg = 0.4;
    item->piece = &heavy;
    assert_non_null(strstr(ks_adult_piece(facts, item, false, &arena), "over 2"));
    item->piece = &light;
    assert_true(ks_adult_level(facts, &facts->levels[0]));
    assert_string_equal(ks_adult_piece(facts, item, false, &arena), "deep reach");
    item->level = facts->n_levels - 1;
    ((ks_level *)facts->levels[item->level].level)->z_mm = facts->load->parts[0].to_mm - 200;
    assert_string_equal(ks_adult_piece(facts, item, false, &arena), "");

    ks_draw_options options = ks_draw_default();
    for (int class = 0; class < 2; class ++) {
        options.for_class = class == 1;
        ks_sheets sheets = made(&arena, plan, &options);
        assert_int_equal(says(sheets.sheets[0].scene, "poisonous"), class);
        assert_int_equal(says(sheets.sheets[1].scene, "▲ ADULT: shelves"), class);
        ks_type_destroy(sheets.type);
    }
    ks_arena_finish(&arena);
}

/* So are those for which a column has not even room for a letter. */
static void lost_in_no_width(ks_sheets *sheets)
{
    ks_scene *scene = ks_scene_create(sheets->arena, sheets->type, 100, 100);
    (void)ks_scene_wrap(scene, KS_LOOK_TEXT, (ks_point){0, 9}, KS_SMALL, -3, 9, 4, "cup");
    assert_int_equal(scene->n_cut, 1);
}

/* Words that find no room are told to who prints the sheets. */
static void what_is_cut_is_told(void **state)
{
    (void)state;
    ks_arena arena = {0};
    char wide[201];
    memset(wide, 'W', 200);
    wide[200] = '\0';
    ks_plan *plan = sample_plan(&arena, sample_small());
    ks_draw_options options = ks_draw_default();
    ks_sheets sheets = made(&arena, plan, &options);
    assert_int_equal(sheets.n_warnings, 0);
    lost_in_no_width(&sheets);
    ks_type_destroy(sheets.type);
    options.date = wide;
    sheets = made(&arena, plan, &options);
    assert_true(sheets.n_warnings > 0);
    assert_non_null(strstr(sheets.warnings[0], "cut for want of room"));
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

static bool drawn_marks_are_unlike(const ks_facts *facts)
{
    for (int i = 0; i < facts->n_owners; i++)
        for (int k = 0; k < i; k++)
            if (strcmp(facts->owners[i].mark, facts->owners[k].mark) == 0)
                return false;
    return true;
}

/* Sixteen members of few names, some with the same initials given: every mark is its owner's alone,
 * and the same whatever the load. */
static void owners_have_unlike_marks(void **state)
{
    (void)state;
    static const char *const names[] = {"Maria Olsen", "Mark Oster", "Mo",         "Mona",
                                        "Ann Lee",     "Ann Leigh",  "Tom Ford",   "Tim Ford",
                                        "Studio",      "Sam",        "Sam",        "",
                                        "Åsa Öberg",   "Åke Öst",    "Lee-Ann Po", "17"};
    enum { N = sizeof names / sizeof *names };
    ks_arena arena = {0};
    sample_wish wish = sample_small();
    wish.members = N;
    wish.pieces = 30;
    ks_plan *plan = sample_plan(&arena, wish);
    for (int i = 0; i < N; i++) {
        plan->order->members[i].name = names[i];
        plan->order->members[i].initials = i % 4 == 3 ? "M" : "";
    }
    ks_facts *facts = ks_facts_of(plan, 0, "0000000000000000", false, &arena);
    assert_true(facts->n_owners >= N);
    assert_true(drawn_marks_are_unlike(facts));
    assert_string_equal(facts->owners[4].mark, "ALee");
    assert_string_equal(facts->owners[15].mark, "17");
    ks_arena_finish(&arena);
}

static void twelve_levels_and_none_at_all_are_drawn(void **state)
{
    (void)state;
    sample_wish wish = sample_small();
    wish.levels = 12;
    judged(wish, KS_SHEET_ALL);
    wish.levels = 3;
    wish.pieces = 0;
    judged(wish, KS_SHEET_ALL);
    wish.levels = 0;
    judged(wish, KS_SHEET_ALL);
}

static void a_plan_with_hardly_anything_in_it_is_drawn(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_kiln kiln = {.id = "k"};
    ks_order order = {.n_kilns = 1, .kilns = &kiln};
    ks_placed lone = {.piece = -1, .id = "a ghost", .owner = "nobody's"};
    ks_level level = {.bay = "b", .n_pieces = 1, .pieces = &lone};
    ks_load loads[2] = {{.kiln_id = "?", .kiln = -1, .day = KS_NO_DAY},
                        {.kiln_id = "k", .n_levels = 1, .levels = &level}};
    ks_left_out left = {.piece = -1, .id = "x", .count = 1, .why = "too tall"};
    ks_plan plan = {.version = "",
                    .stopped_by = "",
                    .order = &order,
                    .n_loads = 2,
                    .loads = loads,
                    .n_left_out = 1,
                    .left_out = &left};
    for (int format = KS_PDF; format <= KS_HTML; format++) {
        ks_draw_options options = ks_draw_default();
        options.format = (ks_draw_format)format;
        options.dpi = 50;
        ks_sheets sheets;
        assert_int_equal(ks_sheets_begin(&sheets, NULL, &options, &arena, NULL), KS_OK);
        sheets.plan = &plan; /* so little of it has no hash */
        sheets.hash = "0000000000000000";
        assert_int_equal(ks_sheets_make(&sheets, NULL), KS_OK);
        for (int i = 0; i < sheets.n; i++)
            judge(sheets.sheets[i].scene);
        ks_type_destroy(sheets.type);
    }
    ks_arena_finish(&arena);
}

static void a_table_of_many_rows_goes_on_and_repeats_its_heads(void **state)
{
    (void)state;
    enum { ROWS = 100 };
    ks_arena arena = {0};
    const char *cells[3 * ROWS];
    for (int i = 0; i < ROWS; i++) {
        cells[3 * i] = ks_arena_print(&arena, "row %d", i + 1);
        cells[3 * i + 1] = "a name that is rather too long for the column in which it has to "
                           "stand, so that it is cut";
        cells[3 * i + 2] = "1,234.50";
    }
    const ks_table_column columns[] = {{"No.", 1, false}, {"Piece", 3, false}, {"Cost", 1, true}};
    const ks_table table = {"Costs", "per piece", "Costs", 3, columns, ROWS, cells, "All in EUR."};
    ks_draw_options options = ks_draw_default();
    options.sheets = KS_SHEET_OVERVIEW;
    options.n_tables = 1;
    options.tables = &table;
    ks_sheets sheets = made(&arena, sample_plan(&arena, sample_small()), &options);
    int rows = 0, heads = 0;
    for (int i = 0; i < sheets.n; i++) {
        judge(sheets.sheets[i].scene);
        for (int k = 0; k < sheets.sheets[i].scene->n; k++) {
            const ks_mark *mark = &sheets.sheets[i].scene->marks[k];
            rows += mark->kind == KS_WORDS && strncmp(mark->text, "row ", 4) == 0;
            heads += mark->kind == KS_WORDS && strcmp(mark->text, "Cost") == 0;
        }
    }
    assert_int_equal(rows, ROWS);
    assert_int_equal(heads, sheets.n - 1);
    assert_true(heads > 1);
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

static void names_of_two_hundred_letters_and_from_right_to_left_keep_their_place(void **state)
{
    (void)state;
    char wide[201];
    memset(wide, 'W', 200);
    wide[200] = '\0';
    const char *const names[] = {wide,
                                 "a name of many short words that goes on and on and on until it "
                                 "has had two hundred letters, as "
                                 "somebody's spreadsheet may well have it, with a comma here, and "
                                 "a note on the glaze there, and so on",
                                 "قدح شاي كبير مع مقبض طويل جدا",
                                 "ספל תה גדול",
                                 "mug ספל (2) قدح",
                                 "\xff\xfe broken \x80 bytes",
                                 "marks \xe2\x80\xae that turn \xe2\x81\xa6 the line",
                                 ""};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        sample_wish wish = sample_small();
        wish.name = names[i];
        judged(wish, KS_SHEET_ALL);
    }
}

static void
lettering_is_never_smaller_than_two_and_a_half_mm_and_numbers_than_three_and_a_half(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = ks_draw_default();
    sample_wish wish = sample_small();
    wish.pieces = 20;
    ks_sheets sheets = made(&arena, sample_plan(&arena, wish), &options);
    for (int i = 0; i < sheets.n; i++)
        for (int k = 0; k < sheets.sheets[i].scene->n; k++) {
            const ks_mark *mark = &sheets.sheets[i].scene->marks[k];
            if (mark->kind == KS_WORDS)
                assert_true(mark->cap_mm >= 2.5);
            if (mark->kind == KS_WORDS && mark->piece > 0 && mark->look == KS_LOOK_NUMBER)
                assert_true(mark->cap_mm >= 3.5);
        }
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
}

/* CIE 1976 lightness of an sRGB colour (IEC 61966-2-1; CIE 015). */
static double lightness(int32_t rgb)
{
    double y = 0, weight[3] = {0.2126, 0.7152, 0.0722};
    for (int i = 0; i < 3; i++) {
        double c = (rgb >> (16 - 8 * i) & 255) / 255.0;
        y += weight[i] * (c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4));
    }
    return y > 0.008856 ? 116 * cbrt(y) - 16 : 903.3 * y;
}

static void fills_stay_apart_in_grey_and_leave_black_words_legible(void **state)
{
    (void)state;
    for (int i = 1; i <= KS_FILLS; i++) {
        assert_true(lightness(ks_fills[i]) >
                    60); /* contrast to black above 7:1 needs about 62 of Y 0.3 */
        for (int k = 1; k < i; k++)
            assert_true(fabs(lightness(ks_fills[i]) - lightness(ks_fills[k])) >= 8);
    }
}

static void a_load_or_member_that_is_not_there_is_refused(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_drawing drawing;
    ks_plan *plan = sample_plan(&arena, sample_small());
    ks_draw_options options = ks_draw_default();
    options.load = 1;
    assert_int_equal(ks_draw(plan, &options, &arena, &drawing, &err), KS_BAD_USAGE);
    options = ks_draw_default();
    options.member = "nobody";
    assert_int_equal(ks_draw(plan, &options, &arena, &drawing, &err), KS_BAD_USAGE);
    assert_non_null(strstr(err.text, "nobody"));
    options = ks_draw_default();
    options.format = KS_PNG;
    options.dpi = 7000;
    assert_int_equal(ks_draw(plan, &options, &arena, &drawing, &err), KS_BAD_USAGE);
    ks_arena_finish(&arena);
}

/* On the sheets of levels, with a piece on so many feet in place of the first. */
static int feet_drawn(int feet)
{
    ks_arena arena = {0};
    sample_wish wish = sample_small();
    wish.with_form = false;
    ks_plan *plan = sample_plan(&arena, wish);
    ks_placed *placed = &plan->loads[0].levels[0].pieces[0];
    double x = placed->stand.x, y = placed->stand.y;
    placed->n_parts = feet + 1;
    placed->parts = KS_TAKE(&arena, feet + 1, ks_part);
    for (int i = 0; i < feet; i++)
        placed->parts[i] =
            sample_part(KS_PART_FOOT, 0, 20, ks_outline_disc(x - 20 + 20 * i, y, 8, &arena));
    placed->parts[feet] = sample_part(KS_PART_BODY, 20, 60, ks_outline_disc(x, y, 30, &arena));
    ks_draw_options options = ks_draw_default();
    options.sheets = KS_SHEET_LEVELS;
    ks_sheets sheets = made(&arena, plan, &options);
    int n = 0;
    for (int s = 0; s < sheets.n; s++)
        for (int i = 0; i < sheets.sheets[s].scene->n; i++)
            n += sheets.sheets[s].scene->marks[i].look == KS_LOOK_FOOT;
    ks_type_destroy(sheets.type);
    ks_arena_finish(&arena);
    return n;
}

static void every_foot_of_a_piece_is_drawn(void **state)
{
    (void)state;
    assert_int_equal(feet_drawn(3), feet_drawn(1) + 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_foot_of_a_piece_is_drawn),
        cmocka_unit_test(on_a_thousand_levels_no_label_covers_another_or_leaves_the_frame),
        cmocka_unit_test(on_all_other_sheets_too),
        cmocka_unit_test(rings_mats_and_cautions_are_sheets_of_their_own),
        cmocka_unit_test(members_sheets_hold_only_their_own_numbers),
        cmocka_unit_test(a_hundred_and_fifty_pieces_each_have_their_number),
        cmocka_unit_test(a_load_has_two_sheets_more_than_tiers),
        cmocka_unit_test(long_names_turn_no_page),
        cmocka_unit_test(long_marks_leave_room_for_their_words),
        cmocka_unit_test(a_class_is_told_what_its_adult_does),
        cmocka_unit_test(what_is_cut_is_told),
        cmocka_unit_test(owners_have_unlike_marks),
        cmocka_unit_test(twelve_levels_and_none_at_all_are_drawn),
        cmocka_unit_test(a_plan_with_hardly_anything_in_it_is_drawn),
        cmocka_unit_test(a_table_of_many_rows_goes_on_and_repeats_its_heads),
        cmocka_unit_test(names_of_two_hundred_letters_and_from_right_to_left_keep_their_place),
        cmocka_unit_test(
            lettering_is_never_smaller_than_two_and_a_half_mm_and_numbers_than_three_and_a_half),
        cmocka_unit_test(fills_stay_apart_in_grey_and_leave_black_words_legible),
        cmocka_unit_test(a_load_or_member_that_is_not_there_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
