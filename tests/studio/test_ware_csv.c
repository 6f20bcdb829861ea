#include "orders.h"

static ks_status sheet_read(const char *csv, const char *units, ks_arena *arena, ks_order **order,
                            ks_error *err)
{
    workplace place = workplace_made();
    (void)file_put(&place, "ware.csv", csv);
    char *text = ks_arena_print(
        arena,
        "{\"format\": \"kilnstow-order/1\", %s \"kilns\": [\"round-580\"], \"firings\": [{\"id\": "
        "\"glaze\", \"cone\": \"6\"}], \"glazes\": [{\"id\": \"clear\"}, {\"id\": \"tin white\"}], "
        "\"ware_files\": [\"ware.csv\"]}",
        units);
    ks_status status =
        ks_order_read(file_put(&place, "order.json", text), "kilns", arena, order, err);
    workplace_left(&place);
    return status;
}

#define MM "\"units\": {\"length\": \"mm\", \"mass\": \"kg\"},"

/* The same two pieces, as different spreadsheets write them. */
static void a_table_is_understood_however_it_is_written(void **state)
{
    (void)state;
    static const char *const sheets[] = {
        "id,name,count,diameter,height,mass,glaze\nmug,\"mug, small\",3,80,101.6,0.3,clear\n"
        "bowl,bowl,1,160,70,0.6,\"clear, tin white\"\n",
        "\xEF\xBB\xBFHeight (cm);Diameter (cm);Weight (g);Piece;Qty;Name;Glazes\r\n"
        "10,16;8;300;mug;3;\"mug, small\";clear\r\n"
        "7;16;600;bowl;1;bowl;clear + tin white\r\n",
        "ID\tHEIGHT\tDIA\tMASS\tQuantity\tDescription\tGlaze\n"
        "mug\t4 in\t80 mm\t300 g\t3\tmug, small\tclear\n\n"
        "bowl\t7 cm\t16 cm\t0,6\t1\tbowl\tclear|tin white\n",
    };
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        if (sheet_read(sheets[i], MM, &arena, &order, &err) != KS_OK)
            fail_msg("%s", err.text);
        assert_int_equal(order->n_pieces, 2);
        const ks_piece *mug = &order->pieces[0], *bowl = &order->pieces[1];
        assert_string_equal(mug->id, "mug");
        assert_string_equal(mug->name, "mug, small");
        assert_int_equal(mug->count, 3);
        check_near(mug->height_mm, 101.6, 0);
        check_near(mug->parts[0].outline.round, 40, 0);
        check_near(mug->mass_kg, 0.3, 1e-12);
        check_near(bowl->mass_kg, 0.6, 1e-12);
        assert_int_equal(bowl->n_glazes, 2);
        ks_arena_finish(&arena);
    }
}

static void as_many_as_fit_is_a_count(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order, *again;
    const char *table = "id,count,diameter,height\nmug,3,80,100\ncup,Fill,60,70\n"
                        "tile,as many as fit,50,60\n";
    if (sheet_read(table, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    ks_plan plan = {.order = order, .version = "", .stopped_by = "", .bound_kind = ""}, *read;
    const char *text = ks_plan_json(&plan, &arena);
    assert_non_null(strstr(text, "\"count\": \"fill\""));
    assert_int_equal(ks_plan_parse("plan", text, strlen(text), &arena, &read, &err), KS_OK);
    again = (ks_order *)read->order;
    for (int i = 0; i < 3; i++) {
        assert_int_equal(order->pieces[i].fill, i > 0);
        assert_int_equal(order->pieces[i].count, i > 0 ? 0 : 3);
        assert_int_equal(again->pieces[i].fill, i > 0);
    }
    assert_int_equal(sheet_read("id,count,diameter,height,due\ncup,fill,60,70,2030-01-01\n", MM,
                                &arena, &order, &err),
                     KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "take \"due\" off it"));
    ks_arena_finish(&arena);
}

static void a_handle_and_a_profile_fit_in_a_cell(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "id,diameter,height,handle,profile\n"
                      "a,80,90,35x20@30-80,\n"
                      "b,,,1 1/4 in x 3/4 in @ 1/2 in - 3 1/8 in,0:40 60:52 95:45\n"
                      "c,3 1/4\",3 3/4\",1-1/4\" x 3/4\" @ 3/4\"-3-1/8\",\n";
    if (sheet_read(csv, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    const ks_part *handle = &order->pieces[0].parts[1];
    check_near(handle->from_mm, 30, 0);
    check_near(handle->to_mm, 80, 0);
    check_near(ks_outline_box(&handle->outline).x1, 75, 0.001);
    const ks_piece *bellied = &order->pieces[1];
    handle = &bellied->parts[bellied->n_parts - 1];
    check_near(handle->from_mm, 12.7, 1e-9);
    check_near(ks_outline_box(&handle->outline).x1, 52 + 31.75, 0.002);
    check_near(bellied->height_mm, 95, 0);
    handle = &order->pieces[2].parts[1];
    check_near(handle->from_mm, 19.05, 1e-9);
    check_near(handle->to_mm, 79.375, 1e-9);
    ks_arena_finish(&arena);
}

static void a_sheet_without_ids_goes_by_its_names(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(sheet_read("name,diameter,height,notes\nmug,80,90,blue\n,70,80,\n", MM, &arena,
                                &order, &err),
                     KS_OK);
    assert_string_equal(order->pieces[0].id, "mug");
    assert_string_equal(order->pieces[1].id, "line-3");
    assert_non_null(strstr(order->warnings[0], "the column \"notes\""));
    ks_arena_finish(&arena);
}

static void every_cell_that_is_not_clear_is_told_by_row_and_column(void **state)
{
    (void)state;
    static const struct {
        const char *csv, *told;
    } cases[] = {
        {"id,hieght,diameter\na,80,90\n", "ware.csv:1:4: found the column \"hieght\"; the nearest "
                                          "known is \"height\" (if it is none: --columns"},
        {"id,height,tall,diameter\na,1,2,3\n", "an earlier column already tells the height"},
        {"id,height (foo),diameter\na,80,90\n", "ware.csv:1:4: found the unit \"foo\""},
        {"id,height,diameter\na,tall,90\n", "ware.csv:2: a.height: found \"tall\""},
        {"id,height,diameter\na,80,90\nb,-3,90\n", "ware.csv:3: b.height: found \"-3\""},
        {"id,height,diameter,count\na,80,90,few\n", "ware.csv:2: a.count: found \"few\""},
        {"id,height,diameter\na,80,90,7\n", "ware.csv:2:9: found \"7\" beyond the last column"},
        {"id,height,diameter\na,80,90\na,80,90\n", "ware.csv:3: a: the id \"a\" was already given"},
        {"id,height,diameter,handle\na,80,90,35x20\n", "a.handle: found \"35x20\""},
        {"id,profile\na,0:40 60\n", "a.profile: found \"60\""},
        {"id,profile\na,0:40 60:x\n", "a.profile[2][2]: found \"x\""},
        {"id,height,diameter,glaze\na,80,90,cler\n", "a.glaze[1]: found \"cler\""},
        {"id,height,diameter,must go\na,80,90,perhaps\n", "a.must_go: found \"perhaps\""},
        {"id,height,diameter,due\na,80,90,soon\n", "a.due: found \"soon\""},
        {"id,height,diameter\na,80,\"90\n", "ware.csv:2:6: found a quote"},
        {"", "ware.csv:1:1: found no header row"},
        {"id;height;diameter;price\na;80;90;1.250\n", "ware.csv:2:9: found \"1.250\"; in a table "
                                                      "parted by semicolons"},
        {"id\theight\tdiameter\na\t1.125\t90\n", "ware.csv:2:3: found \"1.125\"; in a table "
                                                 "parted by tabs"},
        {"id,height,diameter\na,9 cm,90\n",
         "ware.csv:2:8: found \"90\" without a unit beside \"9 cm\"; it could be that unit or the "
         "order's (mm)"},
        {"id,height (cm),diameter\na,9,90\nb,9,90\n",
         "ware.csv:2:5: found \"90\" without a unit beside \"height (cm)\""},
        {"id,height,diameter,foot\na,80,90,91\n", "a.foot: found a foot of 91 x 91 mm under a body "
                                                  "of 90 x 90 mm"},
        {"id,height,diameter,handle\na,80,90,big\n", "a.handle: found \"big\"; write \"yes\""},
        {"id,height,diameter,stage\na,80,90,wet\n", "a.stage: found \"wet\""},
        {"id,height,diameter\n", "ware.csv:1:1: found a heading, but no ware below it"},
        {"id,height,diameter\nTotal,,\n", "ware.csv:1:1: found a heading, but no ware below it"},
        {"name,height\na,90\n", "ware.csv:1:1: found no heading but names and notes; no column "
                                "tells the sizes"},
        {"name,height,Breite\na,90,80\n", "found the unknown heading \"breite\"; no column tells "
                                          "the sizes"},
        {"name,diameter,H\u00F6he\na,90,80\n",
         "found the unknown heading \"h\u00F6he\"; no column tells "
         "the sizes, or not all of them"},
        {"kind,tallness\na,90\n", "found the unknown headings \"kind\", \"tallness\"; not one "
                                  "column is known"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        assert_int_equal(sheet_read(cases[i].csv, MM, &arena, &order, &err), KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].told))
            fail_msg("wanted \"%s\" in \"%s\"", cases[i].told, err.text);
        assert_int_equal(err.count, strstr(cases[i].told, "(cm)") ? 2 : 1);
        ks_arena_finish(&arena);
    }
}

/* What people really hand in: titles, sums, notes, the heading again, names twice. */
static void a_messy_table_is_understood(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "Saturday's firing,,,,,\n"
                      "Piece,Qty,\"Diameter\r\n(cm)\",height\u00A0cm,Stage,Handle\n"
                      "Anna's shelf,,,,,\n"
                      "mug,3,\u00D8 8.4,9.6,Greenware,yes\n"
                      "mug,2,9,10,bisqued,no\n"
                      "Piece,Qty,\"Diameter\r\n(cm)\",height\u00A0cm,Stage,Handle\n"
                      "mug 3,1,9,10,,\n"
                      ",4,7,8,,\n"
                      "Total,10,,,,\n"
                      ",please fire by Friday,,,,\n";
    if (sheet_read(csv, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_int_equal(order->n_pieces, 4);
    assert_string_equal(order->pieces[0].id, "mug");
    assert_string_equal(order->pieces[1].id, "mug 2");
    assert_string_equal(order->pieces[1].name, "mug");
    assert_string_equal(order->pieces[2].id, "mug 3");
    assert_string_equal(order->pieces[3].id, "line-10");
    assert_int_equal(order->pieces[0].stage, KS_DRY);
    assert_int_equal(order->pieces[1].stage, KS_BISQUE);
    check_near(order->pieces[0].parts[0].outline.round, 42, 0);
    check_near(order->pieces[0].height_mm, 96, 0);
    assert_int_equal(order->pieces[0].n_parts, 3); /* floor, wall with its hollow, handle */
    assert_int_equal(order->pieces[1].n_parts, 2);
    assert_non_null(strstr(order->pieces[0].defaults, "handle"));
    assert_int_equal(order->n_warnings, 1);
    assert_non_null(strstr(order->warnings[0], "line 4 (\"anna's shelf\"), line 7 (\"piece\"), "
                                               "line 11 (\"total\"), line 12 (\"please fire by "
                                               "friday\") are passed over"));
    ks_arena_finish(&arena);
}

static void a_unit_over_several_columns_is_that_of_each(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "Studio list,,,,\n,,Size (cm),,Rest\nName,Qty,Diameter,Height,Wall\n"
                      "mug,4,8.5,9.5,4\n";
    if (sheet_read(csv, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    check_near(order->pieces[0].understood.width_mm, 85, 1e-9);
    check_near(order->pieces[0].height_mm, 95, 1e-9);
    check_near(order->pieces[0].wall_mm, 4, 0);
    ks_arena_finish(&arena);
}

static void tabs_part_decimal_points_too(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "name\tdiameter (in)\theight (in)\nmug\t3.25\t3.75\nplate\t10.5\t1.125\n";
    if (sheet_read(csv, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    check_near(order->pieces[1].height_mm, 28.575, 1e-9);
    ks_arena_finish(&arena);
}

static void a_table_in_another_language_is_mapped(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "sep=;\r\nBezeichnung;Anzahl;Durchmesser (cm);Ho\u0308he (cm);Notiz\r\n"
                      "Becher;6;8,5;9,5;blau\r\n";
    assert_int_equal(sheet_read(csv, MM, &arena, &order, &err), KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "ware.csv:2:1: found the unknown headings \"bezeichnung\", "
                                     "\"anzahl\", \"durchmesser (cm)\", \"h\u00F6he (cm)\""));
    assert_non_null(strstr(err.text, "--columns"));
    const char *own = MM "\"columns\": {\"Bezeichnung\": \"name\", \"Anzahl\": \"count\", "
                         "\"Durchmesser\": \"diameter\", \"H\u00F6he\": \"height\", "
                         "\"notiz\": \"none\"},";
    err = (ks_error){0};
    if (sheet_read(csv, own, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_string_equal(order->pieces[0].id, "Becher");
    assert_int_equal(order->pieces[0].count, 6);
    check_near(order->pieces[0].height_mm, 95, 0);
    assert_int_equal(order->n_warnings, 0);
    ks_arena_finish(&arena);
}

static void words_for_columns_come_from_the_command_too(void **state)
{
    (void)state;
    static const char rest[] =
        "\"ware_files\": [\"ware.csv\"], \"columns\": {\"Breite\": \"depth\"}";
    workplace place = workplace_made();
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    (void)file_put(&place, "ware.csv", "Teil,Breite,Must Go,height\na,80,yes,90\n");
    const char *path =
        file_put(&place, "order.json", ks_arena_print(&arena, ORDER_START "%s}", rest));
    if (ks_order_read_columns(path, "kilns", "Teil=name,breite=diameter,must go=must_go", &arena,
                              &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    check_near(order->pieces[0].parts[0].outline.round, 40, 0); /* the command's word goes first */
    assert_true(order->pieces[0].must_go);
    assert_int_equal(ks_order_read_columns(path, "kilns", "Teil", &arena, &order, &err),
                     KS_BAD_USAGE);
    assert_int_equal(ks_order_read_columns(path, "kilns", "Teil=nam", &arena, &order, &err),
                     KS_BAD_USAGE);
    workplace_left(&place);
    ks_arena_finish(&arena);
}

/* W, D, H is a box; D and H alone are round. */
static void a_column_d_is_a_depth_beside_one_of_widths(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(sheet_read("Name,Count,W,D,H\nbox,2,200,100,50\n", MM, &arena, &order, &err),
                     KS_OK);
    ks_box box = ks_outline_box(&order->pieces[0].parts[0].outline);
    check_near(box.x1 - box.x0, 200, 1e-9);
    check_near(box.y1 - box.y0, 100, 1e-9);
    assert_int_equal(sheet_read("Name,Count,D,H\ncup,2,80,90\n", MM, &arena, &order, &err), KS_OK);
    check_near(order->pieces[0].parts[0].outline.round, 40, 1e-9);
    ks_arena_finish(&arena);
}

static void a_table_without_counts_says_so(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(sheet_read("Name,Stk.,D,H\ncup,12,80,90\n", MM, &arena, &order, &err), KS_OK);
    assert_int_equal(order->n_warnings, 1);
    assert_non_null(strstr(order->warnings[0], "\"stk.\""));
    assert_non_null(strstr(order->warnings[0], "HEADING=count"));
    assert_int_equal(sheet_read("Name;Price;D;H\ncup;1.250,00;80;90\n", MM, &arena, &order, &err),
                     KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "such as 1250.00"));
    ks_arena_finish(&arena);
}

static void names_are_one_by_more_than_their_bytes(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "id,height,diameter,glaze\na,80,90,CLEAR\nb,80,90,Tin\u00A0White\n"
                      "c,80,90,c\u00E9ladon\nd,80,90,\"ce\u0301ladon + Clear\"\n";
    if (sheet_read(csv, MM, &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_int_equal(order->n_glazes, 3); /* the last is only named */
    assert_int_equal(order->pieces[0].glazes[0], 0);
    assert_int_equal(order->pieces[1].glazes[0], 1);
    assert_int_equal(order->pieces[2].glazes[0], 2);
    assert_int_equal(order->pieces[3].glazes[0], 2);
    assert_int_equal(order->pieces[3].glazes[1], 0);
    assert_string_equal(order->glazes[2].id, "c\u00E9ladon");
    assert_int_equal(order->glazes[2].coats, 2);
    assert_int_equal(order->n_warnings, 1);
    assert_non_null(strstr(order->warnings[0], "the glaze \"c\u00E9ladon\" is only named"));
    ks_arena_finish(&arena);
}

static void a_number_without_a_unit_needs_one_from_somewhere(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *csv = "id,height,diameter\na,4,3\n";
    assert_int_equal(sheet_read(csv, "", &arena, &order, &err), KS_BAD_INPUT);
    assert_int_equal(sheet_read(csv, "\"units\": {\"length\": \"in\"},", &arena, &order, &err),
                     KS_OK);
    check_near(order->pieces[0].height_mm, 101.6, 0);
    ks_arena_finish(&arena);
}

static void steps_are(const ks_piece *piece, const char *told, ks_arena *arena)
{
    const char *found = "";
    for (int i = 0; i < piece->n_work; i++)
        found = ks_arena_print(arena, "%s%s%s %g", found, i > 0 ? ", " : "", piece->work[i].step,
                               piece->work[i].time_s / 60);
    assert_string_equal(found, told);
}

/* A lump, a list in one cell, columns of minutes, a studio's own heading; and as it is in a plan.
 */
static void labour_is_told_by_lump_list_or_columns(void **state)
{
    (void)state;
    static const struct {
        const char *sheet, *first, *second;
    } sheets[] = {
        {"id,diameter,height,labour\ncup,60,60,12 min\npot,160,140,\"throwing 14 min, handles 6,5 "
         "min\"\n",
         " 12", "throwing 14, handles 6.5"},
        {"id;diameter;height;labour (min)\ncup;60;60;12\npot;160;140;throwing 14 + handles 6,5\n",
         " 12", "throwing 14, handles 6.5"},
        {"id,diameter,height,Throwing (min),Handles (min),glazing "
         "[minutes]\ncup,60,60,4,,1\npot,160,140,14,6.5,2\n",
         "throwing 4, glazing 1", "throwing 14, handles 6.5, glazing 2"},
        {"id,diameter,height,height (min)\ncup,60,60,\npot,160,140,\n", NULL, NULL},
    };
    for (size_t i = 0; i < sizeof sheets / sizeof sheets[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        ks_plan *read;
        ks_status status = sheet_read(sheets[i].sheet, MM, &arena, &order, &err);
        assert_int_equal(status, sheets[i].first ? KS_OK : KS_BAD_INPUT);
        if (!status) {
            steps_are(&order->pieces[0], sheets[i].first, &arena);
            steps_are(&order->pieces[1], sheets[i].second, &arena);
            ks_plan plan = {.order = order, .version = "", .stopped_by = "", .bound_kind = ""};
            const char *text = ks_plan_json(&plan, &arena);
            assert_int_equal(ks_plan_parse("plan", text, strlen(text), &arena, &read, &err), KS_OK);
            steps_are(&read->order->pieces[1], sheets[i].second, &arena);
        }
        ks_arena_finish(&arena);
    }
}

/* A watch and a spreadsheet read a colon differently. */
static void a_colon_in_a_time_of_work_is_asked_about(void **state)
{
    (void)state;
    static const struct {
        const char *heading, *cell, *say;
    } cells[] = {
        {"labour", "6:30", "write \"6 min 30 s\" or \"6 h 30\""},
        {"labour (min)", "06:30:00", "write \"6 min 30 s\" or \"6 h 30\""},
        {"labour", "throwing 12:05", "write \"12 min 5 s\" or \"12 h 5\""},
        {"throwing (min)", "0:45", "write \"0 min 45 s\" or \"0 h 45\""},
        {"throwing (min)", "00:06:30", NULL},
        {"labour", "6 min 30 s", NULL},
        {"labour", "6 h 30", NULL},
    };
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        const char *sheet = ks_arena_print(&arena, "id,diameter,height,%s\ncup,60,60,%s\n",
                                           cells[i].heading, cells[i].cell);
        ks_status status = sheet_read(sheet, MM, &arena, &order, &err);
        assert_int_equal(status, cells[i].say ? KS_BAD_INPUT : KS_OK);
        if (cells[i].say) {
            assert_non_null(strstr(err.text, cells[i].say));
            assert_int_equal(err.count, 1);
        }
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_table_is_understood_however_it_is_written),
        cmocka_unit_test(as_many_as_fit_is_a_count),
        cmocka_unit_test(a_handle_and_a_profile_fit_in_a_cell),
        cmocka_unit_test(a_sheet_without_ids_goes_by_its_names),
        cmocka_unit_test(every_cell_that_is_not_clear_is_told_by_row_and_column),
        cmocka_unit_test(a_messy_table_is_understood),
        cmocka_unit_test(a_unit_over_several_columns_is_that_of_each),
        cmocka_unit_test(tabs_part_decimal_points_too),
        cmocka_unit_test(a_table_in_another_language_is_mapped),
        cmocka_unit_test(words_for_columns_come_from_the_command_too),
        cmocka_unit_test(a_column_d_is_a_depth_beside_one_of_widths),
        cmocka_unit_test(a_table_without_counts_says_so),
        cmocka_unit_test(names_are_one_by_more_than_their_bytes),
        cmocka_unit_test(a_number_without_a_unit_needs_one_from_somewhere),
        cmocka_unit_test(labour_is_told_by_lump_list_or_columns),
        cmocka_unit_test(a_colon_in_a_time_of_work_is_asked_about),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
