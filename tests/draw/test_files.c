#include "check.h"
#include "base/text.h"
#include "draw/scene/canvas.h"
#include "draw/sample.h"
#include "draw/sheets/sheets.h"

#include <stdlib.h>
#include <unistd.h>

static ks_drawing drawn(ks_arena *arena, const ks_plan *plan, const ks_draw_options *options)
{
    ks_drawing drawing;
    ks_error err = {0};
    if (ks_draw(plan, options, arena, &drawing, &err) != KS_OK)
        fail_msg("%s", err.text);
    return drawing;
}

static ks_draw_options as(ks_draw_format format)
{
    ks_draw_options options = ks_draw_default();
    options.format = format;
    options.dpi = 72;
    options.date = "2026-11-25";
    options.created_s = 1795600000;
    return options;
}

typedef struct {
    char folder[64], file[96];
} scratch;

static scratch written(const ks_drawn *drawn_file)
{
    scratch s = {"/tmp/kilnstow-draw-XXXXXX", ""};
    assert_non_null(mkdtemp(s.folder));
    snprintf(s.file, sizeof s.file, "%s/sheet", s.folder);
    FILE *file = fopen(s.file, "wb");
    assert_non_null(file);
    assert_int_equal(fwrite(drawn_file->bytes, 1, drawn_file->size, file), drawn_file->size);
    assert_int_equal(fclose(file), 0);
    return s;
}

static void removed(const scratch *s)
{
    unlink(s->file);
    rmdir(s->folder);
}

/* What the command prints; fails unless it ends with status 0. */
static const char *answer_of(ks_arena *arena, const char *command, const scratch *s)
{
    const char *line = ks_arena_print(arena, command, s->file);
    FILE *pipe = popen(line, "r");
    assert_non_null(pipe);
    ks_text text = {.arena = arena};
    char bytes[4096];
    size_t count;
    while ((count = fread(bytes, 1, sizeof bytes, pipe)) > 0)
        ks_text_add_n(&text, bytes, count);
    int status = pclose(pipe);
    if (status != 0)
        fail_msg("%s ended with %d: %s", line, status, ks_text_end(&text));
    return ks_text_end(&text);
}

static void the_pdf_is_sound_by_qpdf(void **state)
{
    (void)state;
    ks_arena arena = {0};
    for (int paper = KS_A4; paper <= KS_LETTER; paper++) {
        ks_draw_options options = as(KS_PDF);
        options.paper = (ks_paper)paper;
        ks_drawing drawing = drawn(&arena, sample_plan(&arena, sample_small()), &options);
        assert_int_equal(drawing.n_files, 1);
        assert_true(drawing.files[0].size < 300 * 1024);
        scratch s = written(&drawing.files[0]);
        answer_of(&arena, "qpdf --check %s 2>&1", &s);
        const char *about = answer_of(&arena, "pdfinfo %s 2>&1", &s);
        assert_non_null(strstr(about, paper == KS_A4 ? "595.276 x 841.89" : "612 x 792"));
        assert_non_null(strstr(about, "Weekly glaze load"));
        removed(&s);
    }
    ks_arena_finish(&arena);
}

static const char *without_spaces(ks_arena *arena, const char *text)
{
    char *out = ks_arena_take(arena, strlen(text) + 1, 1);
    size_t used = 0;
    for (; *text; text++)
        if (*text != ' ' && *text != '\n' && *text != '\f' && *text != '\r')
            out[used++] = *text;
    return out;
}

static void pdftotext_finds_every_label_of_every_page(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_PDF);
    ks_plan *plan = sample_plan(&arena, sample_small());
    ks_drawing drawing = drawn(&arena, plan, &options);
    scratch s = written(&drawing.files[0]);
    ks_sheets sheets;
    assert_int_equal(ks_sheets_begin(&sheets, plan, &options, &arena, NULL), KS_OK);
    assert_int_equal(ks_sheets_make(&sheets, NULL), KS_OK);
    for (int i = 0; i < sheets.n; i++) {
        const char *command =
            ks_arena_print(&arena, "pdftotext -raw -f %d -l %d %%s -", i + 1, i + 1);
        const char *text = without_spaces(&arena, answer_of(&arena, command, &s));
        const ks_scene *scene = sheets.sheets[i].scene;
        for (int k = 0; k < scene->n; k++)
            if (scene->marks[k].kind == KS_WORDS &&
                !strstr(text, without_spaces(&arena, scene->marks[k].text)))
                fail_msg("page %d: \"%s\" is not found", i + 1, scene->marks[k].text);
    }
    ks_type_destroy(sheets.type);
    removed(&s);
    ks_arena_finish(&arena);
}

static void right_to_left_and_missing_letters_are_searchable_in_the_pdf(void **state)
{
    (void)state;
    ks_arena arena = {0};
    sample_wish wish = sample_small();
    wish.name = "ספל 本 قدح";
    ks_draw_options options = as(KS_PDF);
    options.sheets = KS_SHEET_LIST;
    ks_drawing drawing = drawn(&arena, sample_plan(&arena, wish), &options);
    assert_int_equal(drawing.n_warnings, 1);
    assert_non_null(strstr(drawing.warnings[0], "U+672C"));
    scratch s = written(&drawing.files[0]);
    const char *text = without_spaces(&arena, answer_of(&arena, "pdftotext %s -", &s));
    assert_non_null(strstr(text, "ספל"));
    assert_non_null(strstr(text, "قدح"));
    assert_non_null(strstr(text, "本"));
    removed(&s);
    ks_arena_finish(&arena);
}

static void the_pdf_has_a_bookmark_for_each_sheet(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_PDF);
    ks_drawing drawing = drawn(&arena, sample_plan(&arena, sample_small()), &options);
    scratch s = written(&drawing.files[0]);
    const char *text = answer_of(&arena, "qpdf --json --json-key=outlines %s 2>&1", &s);
    int n = 0;
    for (const char *at = text; (at = strstr(at, "\"title\"")); at++)
        n++;
    assert_int_equal(n, drawing.n_sheets);
    assert_non_null(strstr(text, "Level 2"));
    removed(&s);
    ks_arena_finish(&arena);
}

static const char *const hostile[] = {
    "<script>alert(1)</script>", "]]>&amp;\"' --> <!--",
    "a\x01\x08\x1b[0m\xff",      "</style></svg><img src=x onerror=y>",
    "${HOME} `id` %s %n",        "\xed\xa0\x80 \xef\xbf\xbe \xe2\x80\xae"};

static void svg_and_html_are_well_formed_whatever_the_names(void **state)
{
    (void)state;
    for (size_t h = 0; h < sizeof hostile / sizeof hostile[0]; h++)
        for (int format = KS_SVG; format <= KS_HTML; format++) {
            if (format == KS_PNG)
                continue;
            ks_arena arena = {0};
            sample_wish wish = sample_small();
            wish.levels = 2;
            wish.pieces = 6;
            wish.name = hostile[h];
            ks_plan *plan = sample_plan(&arena, wish);
            ks_order *order = (ks_order *)plan->order;
            order->title = order->studio = order->members[0].name = order->glazes[0].name =
                hostile[h];
            plan->left_out[1].id = plan->left_out[1].detail = hostile[h];
            ks_draw_options options = as((ks_draw_format)format);
            options.full_names = true;
            ks_drawing drawing = drawn(&arena, plan, &options);
            for (int i = 0; i < drawing.n_files; i++) {
                scratch s = written(&drawing.files[i]);
                answer_of(&arena, "xmllint --noout --nonet %s 2>&1", &s);
                removed(&s);
                assert_null(strstr((const char *)drawing.files[i].bytes, "<script>alert"));
                assert_null(strstr((const char *)drawing.files[i].bytes, "<img"));
            }
            ks_arena_finish(&arena);
        }
}

static void svg_carries_its_text_its_title_and_measured_lengths(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_SVG);
    ks_drawing drawing = drawn(&arena, sample_plan(&arena, sample_small()), &options);
    assert_int_equal(drawing.n_files, drawing.n_sheets);
    const char *svg = (const char *)drawing.files[1].bytes;
    assert_string_equal(drawing.files[1].name, "level-1");
    assert_non_null(strstr(svg, "<title>Level 1</title>"));
    assert_non_null(strstr(svg, "<desc>"));
    assert_non_null(strstr(svg, "role=\"img\""));
    assert_non_null(strstr(svg, ">FRONT</text>"));
    assert_non_null(strstr(svg, "textLength=\""));
    ks_arena_finish(&arena);
}

static void the_page_needs_no_network_and_is_an_ordered_list_without_scripts(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_HTML);
    ks_plan *plan = sample_plan(&arena, sample_small());
    ks_drawing drawing = drawn(&arena, plan, &options);
    assert_int_equal(drawing.n_files, 1);
    assert_true(drawing.files[0].size < 300 * 1024);
    const char *page = (const char *)drawing.files[0].bytes;
    const char *const forbidden[] = {"src=",           "@import", "url(", "fetch(",
                                     "XMLHttpRequest", "://",     "www."};
    for (size_t i = 0; i < sizeof forbidden / sizeof forbidden[0]; i++)
        assert_null(strstr(page, forbidden[i]));
    scratch s = written(&drawing.files[0]);
    int pieces = 0;
    for (int i = 0; i < plan->loads[0].n_levels; i++)
        pieces += plan->loads[0].levels[i].n_pieces;
    const char *count =
        answer_of(&arena,
                  "xmllint --nonet --xpath \"count(//*[local-name()='ol']/*[local-name()='li']"
                  "[.//*[@class='no']])\" %s",
                  &s);
    assert_int_equal(atoi(count), pieces);
    removed(&s);
    ks_arena_finish(&arena);
}

/* PNG (RFC 2083): size in the header chunk, pixels for each metre in pHYs. */
static void a_picture_has_the_asked_resolution(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_PNG);
    options.dpi = 100;
    options.sheets = KS_SHEET_OVERVIEW;
    ks_drawing drawing = drawn(&arena, sample_plan(&arena, sample_small()), &options);
    const unsigned char *b = drawing.files[0].bytes;
    assert_memory_equal(b, "\x89PNG\r\n\x1a\n", 8);
    assert_int_equal(b[16] << 24 | b[17] << 16 | b[18] << 8 | b[19], 827);  /* 210 mm */
    assert_int_equal(b[20] << 24 | b[21] << 16 | b[22] << 8 | b[23], 1169); /* 297 mm */
    assert_memory_equal(b + 37, "pHYs", 4);
    assert_int_equal(b[41] << 24 | b[42] << 16 | b[43] << 8 | b[44], 3937);
    ks_arena_finish(&arena);
}

static void the_same_plan_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int format = KS_PDF; format <= KS_HTML; format++) {
        ks_arena arena = {0};
        ks_draw_options options = as((ks_draw_format)format);
        ks_drawing a = drawn(&arena, sample_plan(&arena, sample_small()), &options);
        ks_drawing b = drawn(&arena, sample_plan(&arena, sample_small()), &options);
        assert_int_equal(a.n_files, b.n_files);
        for (int i = 0; i < a.n_files; i++) {
            assert_int_equal(a.files[i].size, b.files[i].size);
            assert_memory_equal(a.files[i].bytes, b.files[i].bytes, a.files[i].size);
        }
        ks_arena_finish(&arena);
    }
}

static void a_broken_pdf_is_noticed(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_PDF);
    options.sheets = KS_SHEET_SIDE;
    ks_drawing drawing = drawn(&arena, sample_plan(&arena, sample_small()), &options);
    size_t size = drawing.files[0].size;
    unsigned char *bytes = ks_arena_take(&arena, size + 1, 1);
    memcpy(bytes, drawing.files[0].bytes, size);
    assert_null(ks_pdf_fault(bytes, size));
    for (size_t cut = 0; cut < size; cut += 1 + size / 97)
        assert_non_null(ks_pdf_fault(bytes, cut));
    memmove(bytes + 60, bytes + 61,
            size - 61); /* one byte lost early: objects are no longer in place */
    assert_non_null(ks_pdf_fault(bytes, size - 1));
    ks_arena_finish(&arena);
}

static void initials_stand_alone_unless_names_are_asked_for(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_draw_options options = as(KS_HTML);
    const char *page =
        (const char *)drawn(&arena, sample_plan(&arena, sample_small()), &options).files[0].bytes;
    assert_null(strstr(page, "Ada Quill"));
    assert_non_null(strstr(page, ">AQ<"));
    options.full_names = true;
    page =
        (const char *)drawn(&arena, sample_plan(&arena, sample_small()), &options).files[0].bytes;
    assert_non_null(strstr(page, "Ada Quill"));
    ks_arena_finish(&arena);
}

static void a_chart_is_a_sheet_and_an_svg_for_a_page(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_point at[] = {{0, 20}, {9, 1186}, {10, 1222}, {NAN, 3}, {24, 60}};
    const ks_curve curve = {.name = "chamber", .n = 5, .at = at};
    const ks_chart_row rows[] = {{{"", "clock", "after", "rate", "to", "hold", "takes"}},
                                 {{"1", "Th 20:00", "0 h 00", "100", "600", "15", "6 h 03"}}};
    const ks_plan *plan = sample_plan(&arena, sample_small());
    const ks_chart chart = {.title = "Firing <curve>",
                            .x_label = "hours",
                            .y_label = "°C",
                            .n_curves = 1,
                            .curves = &curve,
                            .note = "first line\nslowest: 12",
                            .n_rows = 2,
                            .rows = rows,
                            .blanks = {"written at", "reads", "seen", "done", "by"},
                            .plan = plan};
    ks_draw_options options = as(KS_PDF);
    ks_drawing drawing;
    assert_int_equal(ks_draw_chart(&chart, &options, &arena, &drawing, NULL), KS_OK);
    scratch s = written(&drawing.files[0]);
    const char *text = answer_of(&arena, "pdftotext %s -", &s);
    assert_non_null(strstr(text, "hours"));
    assert_non_null(strstr(text, "6 h 03")); /* its table, and where to write in by hand */
    assert_non_null(strstr(text, "reads"));
    assert_non_null(strstr(text, "Th 20:00"));
    assert_non_null(strstr(text, "first line\n")); /* paragraphs begin anew */
    assert_non_null(strstr(text, plan->order->kilns[0].name));
    removed(&s);
    const char *svg = ks_chart_svg(&chart, 120, 80, &arena, NULL);
    ks_drawn as_file = {"", (const unsigned char *)svg, strlen(svg)};
    s = written(&as_file);
    answer_of(&arena, "xmllint --noout --nonet %s 2>&1", &s);
    removed(&s);
    const ks_chart empty = {.title = "Nothing", .x_label = "x", .y_label = "y"};
    assert_non_null(strstr(ks_chart_svg(&empty, 0, 0, &arena, NULL), "</svg>"));
    ks_arena_finish(&arena);
}

/* Turns of switches may be many and their words long: what finds no room stands on another sheet.
 */
static void no_row_of_a_chart_is_cut_off(void **state)
{
    enum { MANY = 60 };
    ks_arena arena = {0};
    ks_chart_row rows[MANY + 1] = {{{"", "clock", "after", "about", "turn to", "lid", ""}}};
    for (int i = 1; i <= MANY; i++)
        rows[i] = (ks_chart_row){{ks_arena_print(&arena, "%d", i), "", "0 h 30", "524",
                                  ks_arena_print(&arena,
                                                 "lowest 2 switches medium, others low, off and "
                                                 "on, up 8 C in half an hour at most, row%dend",
                                                 i),
                                  "propped", ""}};
    const ks_chart chart = {.title = "Turns",
                            .x_label = "h",
                            .y_label = "C",
                            .n_rows = MANY + 1,
                            .rows = rows,
                            .blanks = {"written at", "reads", "seen", "done", "by"}};
    ks_draw_options options = as(KS_PDF);
    ks_drawing drawing;
    assert_int_equal(ks_draw_chart(&chart, &options, &arena, &drawing, NULL), KS_OK);
    assert_int_equal(drawing.n_warnings, 0);
    scratch s = written(&drawing.files[0]);
    const char *text = answer_of(&arena, "pdftotext %s -", &s);
    for (int i = 1; i <= MANY; i++)
        assert_non_null(strstr(text, ks_arena_print(&arena, "row%dend", i)));
    removed(&s);
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_pdf_is_sound_by_qpdf),
        cmocka_unit_test(pdftotext_finds_every_label_of_every_page),
        cmocka_unit_test(right_to_left_and_missing_letters_are_searchable_in_the_pdf),
        cmocka_unit_test(the_pdf_has_a_bookmark_for_each_sheet),
        cmocka_unit_test(svg_and_html_are_well_formed_whatever_the_names),
        cmocka_unit_test(svg_carries_its_text_its_title_and_measured_lengths),
        cmocka_unit_test(the_page_needs_no_network_and_is_an_ordered_list_without_scripts),
        cmocka_unit_test(a_picture_has_the_asked_resolution),
        cmocka_unit_test(the_same_plan_gives_the_same_bytes),
        cmocka_unit_test(a_broken_pdf_is_noticed),
        cmocka_unit_test(initials_stand_alone_unless_names_are_asked_for),
        cmocka_unit_test(a_chart_is_a_sheet_and_an_svg_for_a_page),
        cmocka_unit_test(no_row_of_a_chart_is_cut_off),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
