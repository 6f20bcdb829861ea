#include "orders.h"
#include "studio/kilns/kiln_file.h"

#include <dirent.h>

static void every_kiln_of_the_folder_reads_whole(void **state)
{
    (void)state;
    DIR *dir = opendir("kilns");
    assert_non_null(dir);
    int n = 0;
    for (struct dirent *entry; (entry = readdir(dir));) {
        if (!strstr(entry->d_name, ".json"))
            continue;
        ks_arena arena = {0};
        ks_error err = {0};
        ks_kiln kiln;
        char path[300];
        (void)snprintf(path, sizeof path, "kilns/%s", entry->d_name);
        if (ks_kiln_read(path, &arena, &kiln, &err) != KS_OK)
            fail_msg("%s", err.text);
        assert_int_equal(strncmp(kiln.id, entry->d_name, strlen(kiln.id)), 0);
        assert_true(kiln.n_parts > 0 && kiln.n_shelves > 0 && kiln.n_posts > 0);
        assert_true(kiln.n_bays > 0 && kiln.n_arrangements > 0);
        assert_true(kiln.heat.n_zones > 0 && kiln.heat.wall.n_layers > 0);
        assert_true(*kiln.note != '\0');
        for (int i = 0; i < kiln.n_shelves; i++)
            assert_true(kiln.shelves[i].mass_kg > 0.2 && kiln.shelves[i].mass_kg < 40);
        n++;
        ks_arena_finish(&arena);
    }
    (void)closedir(dir);
    assert_true(n >= 10);
}

/* A barrel over 600 mm that rises 100: radius (300^2 + 100^2) / 200 = 500 mm; at 50 mm below the
 * crown the half chord is sqrt(50 (1000 - 50)) = 217.94 mm (Euclid III.35). */
static void an_arch_lies_within_its_barrel(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_outline floor = ks_outline_rectangle(600, 500, 0, &arena);
    ks_chamber_part *parts;
    int n;
    assert_true(ks_chamber_arched(&floor, 400, 500, &arena, &parts, &n));
    check_near(parts[0].to_mm, 400, 0);
    check_near(ks_outline_area(&parts[0].outline), 300000, 1e-6);
    for (int i = 1; i < n; i++) {
        ks_box box = ks_outline_box(&parts[i].outline);
        double below = 500 - parts[i].to_mm;
        check_near(box.x1, sqrt(below * (1000 - below)), 0.001);
        check_near(box.x0, -box.x1, 0.0011);
        check_near(box.y1, 250, 0);
        if (below == 50)
            check_near(box.x1, 217.945, 0.001);
        assert_true(parts[i].from_mm == parts[i - 1].to_mm);
    }
    assert_true(n == 16);
    ks_arena_finish(&arena);
}

#define SMALL_KILN(before, inside)                                                                 \
    "{\"format\": \"kilnstow-kiln/1\", \"id\": \"k\", \"units\": {\"length\": \"mm\", \"mass\": "  \
    "\"kg\", \"temperature\": \"C\"}, \"loading\": \"top\",\n" before                              \
    "\"shelves\": [{\"id\": \"whole\", \"outline\": {\"circle\": [0, 0, 150]}, \"thickness\": "    \
    "15, "                                                                                         \
    "\"count\": 3}],\n\"posts\": [{\"height\": 100, \"outline\": {\"circle\": [0, 0, 15]}, "       \
    "\"count\": 9}],\n\"bays\": [{\"id\": \"all\", \"outline\": {\"circle\": [0, 0, 170]}, "       \
    "\"supports\": [{\"shelves\": [{\"shelf\": \"whole\", \"x\": 0, \"y\": 0}], \"posts\": [[0, "  \
    "120], [100, -60], [-100, -60]]}]}],\n" inside "}"
#define CHAMBER "\"chamber\": {\"height\": 400, \"outline\": {\"circle\": [0, 0, 170]}}"

static ks_status kiln_from(const char *text, ks_arena *arena, ks_kiln *kiln, ks_error *err)
{
    workplace place = workplace_made();
    ks_status status = ks_kiln_read(file_put(&place, "k.json", text), arena, kiln, err);
    workplace_left(&place);
    return status;
}

static void what_a_kiln_does_not_tell_has_a_marked_default(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_kiln kiln;
    if (kiln_from(SMALL_KILN("", CHAMBER), &arena, &kiln, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_string_equal(kiln.defaults,
                        "floor above ground, power, volts, top temperature, vent, leak, casing, "
                        "lining");
    assert_string_equal(kiln.arrangements[0].id, "all");
    assert_string_equal(kiln.posts[0].id, "post-100");
    /* Cordierite of 1950 kg/m3. */
    check_near(kiln.shelves[0].mass_kg, 3.14159265 * 0.15 * 0.15 * 0.015 * 1950, 1e-5);
    check_near(kiln.clearance.wall, 25, 0);
    check_near(kiln.heat.zones[0].to_mm, 400, 0);
    ks_arena_finish(&arena);
}

static void without_bays_the_shelf_lies_in_the_middle_on_three_posts(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_kiln kiln;
    const char *text =
        "{\"format\": \"kilnstow-kiln/1\", \"id\": \"k\", \"units\": {\"length\": \"mm\"}, "
        "\"loading\": \"top\", \"chamber\": {\"height\": 400, \"outline\": {\"rectangle\": [400, "
        "400]}}, \"shelves\": [{\"id\": \"s\", \"outline\": {\"rectangle\": [350, 300]}, "
        "\"thickness\": 15, \"count\": 3}], \"posts\": [{\"height\": 100, \"outline\": "
        "{\"circle\": "
        "[0, 0, 20]}, \"count\": 9}]}";
    if (kiln_from(text, &arena, &kiln, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_int_equal(kiln.n_bays, 1);
    assert_int_equal(kiln.n_arrangements, 1);
    const ks_support *support = &kiln.bays[0].supports[0];
    assert_int_equal(support->n_posts, 3);
    check_near(support->posts[0].y, 150 - 20, 0.001);
    for (int i = 0; i < 3; i++)
        check_near(ks_outline_from_point(&kiln.shelves[0].outline, support->posts[i]), -20, 0.002);
    assert_non_null(strstr(kiln.defaults, "bays"));
    ks_arena_finish(&arena);
}

static void a_kiln_written_and_read_again_is_the_same(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_kiln kiln, again;
    const char *files[] = {"kilns/gas-1000.json", "kilns/round-580.json",
                           "kilns/oval-450x710.json"};
    for (int i = 0; i < 3; i++) {
        assert_int_equal(ks_kiln_read(files[i], &arena, &kiln, &err), KS_OK);
        ks_json_out first = {.text.arena = &arena}, second = {.text.arena = &arena};
        ks_kiln_write(&first, NULL, &kiln);
        const char *text = ks_out_done(&first);
        const ks_json *node;
        assert_int_equal(ks_json_parse("again", text, strlen(text), &arena, &node, &err), KS_OK);
        ks_reading reading = {.fields = {.units = {"mm", "kg", "C"}, .arena = &arena, .err = &err}};
        ks_kiln_read_node(&reading, node, &again);
        assert_int_equal(err.count, 0);
        ks_kiln_write(&second, NULL, &again);
        assert_string_equal(text, ks_out_done(&second));
    }
    ks_arena_finish(&arena);
}

static void a_slip_in_a_kiln_is_told_with_its_place(void **state)
{
    (void)state;
    static const struct {
        const char *text, *told;
    } cases[] = {
        {SMALL_KILN("", "\"note\": \"none\""), ":1: chamber: found nothing"},
        {SMALL_KILN("", CHAMBER ", \"heat\": {\"kind\": \"steam\", \"power\": 5}"),
         "heat.kind: found \"steam\""},
        {SMALL_KILN("",
                    CHAMBER ", \"heat\": {\"kind\": \"electric\", \"power\": 5, \"phases\": 2}"),
         "heat.phases: found 2"},
        {SMALL_KILN("", CHAMBER ", \"heat\": {\"kind\": \"electric\", \"power\": 5, \"zones\": "
                                "[{\"from\": 0, \"to\": 400, \"share\": 0.5}]}"),
         "shares add up to 0.5"},
        {SMALL_KILN("", CHAMBER ", \"opening\": {\"width\": 300}"),
         "opening.height: found nothing"},
        {SMALL_KILN("", CHAMBER ", \"chambre\": 1"), "did you mean \"chamber\"?"},
        {SMALL_KILN("", CHAMBER ", \"arrangements\": [{\"id\": \"x\", \"bays\": [\"al\"]}]"),
         "found \"al\", but there is no such bay; the nearest is \"all\""},
        {SMALL_KILN("", "\"chamber\": {\"height\": 400, \"outline\": {\"circle\": [0, 0, 170]}, "
                        "\"arch\": {\"spring\": 300}}"),
         "an arch needs straight walls"},
        {SMALL_KILN("", "\"chamber\": {\"height\": 400, \"outline\": {\"rectangle\": [300, 300]}, "
                        "\"arch\": {\"spring\": 400}}"),
         "it must spring lower"},
        {SMALL_KILN("", "\"chamber\": {\"height\": 400, \"parts\": [{\"from\": 0, \"to\": 500, "
                        "\"outline\": {\"circle\": [0, 0, 170]}}]}"),
         "it reaches 500 mm, but the chamber is 400 mm high"},
        {SMALL_KILN("", "\"chamber\": {\"height\": 400, \"outline\": {\"circle\": [0, 0, 170], "
                        "\"ellipse\": [0, 0, 1, 1]}}"),
         "found both \"circle\" and \"ellipse\""},
        {SMALL_KILN("\"lining\": {\"wall\": [{\"thickness\": 76}]}, ", CHAMBER),
         "lining.wall[1].material: found nothing"},
        {SMALL_KILN("\"clearances\": {\"wal\": 3}, ", CHAMBER), "did you mean \"wall\"?"},
        {SMALL_KILN("\"keep_outs\": [{\"kind\": \"sensor\", \"outline\": {\"circle\": [0, 0, 5]}, "
                    "\"from\": 50, \"to\": 40}], ",
                    CHAMBER),
         "\"to\" must be above \"from\""},
        {SMALL_KILN("", "\"chamber\": {\"height\": 400, \"outline\": {\"circle\": [0, 0, 134]}}"),
         "bays[1].supports[1].posts[1]: a post here would reach 1 mm beyond the chamber's wall"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_kiln kiln;
        assert_int_equal(kiln_from(cases[i].text, &arena, &kiln, &err), KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].told))
            fail_msg("wanted \"%s\" in \"%s\"", cases[i].told, err.text);
        assert_int_equal(err.count, 1);
        ks_arena_finish(&arena);
    }
}

/* Bays side by side, two ways of shelving each. */
static const char *many_bays(int n, ks_arena *arena)
{
    const char *bays = "", *ids = "";
    for (int i = 0; i < n; i++) {
        const int x = 30 * i - 120;
        const char *way = ks_arena_print(arena,
                                         "{\"shelves\": [{\"shelf\": \"slim\", \"x\": %d, \"y\": "
                                         "0}], \"posts\": [[%d, 120], [%d, -60], [%d, -100]]}",
                                         x, x / 3, x / 3, x / 3);
        bays = ks_arena_print(arena,
                              "%s%s{\"id\": \"b%d\", \"outline\": {\"circle\": [0, 0, 170]}, "
                              "\"supports\": [%s, %s]}",
                              bays, i ? ", " : "", i, way, way);
        ids = ks_arena_print(arena, "%s%s\"b%d\"", ids, i ? ", " : "", i);
    }
    return ks_arena_print(
        arena,
        "{\"format\": \"kilnstow-kiln/1\", \"id\": \"k\", \"units\": {\"length\": \"mm\", "
        "\"mass\": "
        "\"kg\", \"temperature\": \"C\"}, \"loading\": \"top\", " CHAMBER
        ", \"shelves\": [{\"id\": \"slim\", \"outline\": {\"rectangle\": [28, 300]}, "
        "\"thickness\": "
        "15, \"count\": 3}], \"posts\": [{\"height\": 100, \"outline\": {\"circle\": [0, 0, 15]}, "
        "\"count\": 9}], \"bays\": [%s], \"arrangements\": [{\"id\": \"x\", \"bays\": [%s]}]}",
        bays, ids);
}

static void more_shelvings_than_can_be_tried_are_refused_with_their_number(void **state)
{
    (void)state;
    for (int n = 8; n <= 9; n++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_kiln kiln;
        ks_status status = kiln_from(many_bays(n, &arena), &arena, &kiln, &err);
        assert_int_equal(status, n == 8 ? KS_OK : KS_BAD_INPUT);
        if (n == 9)
            assert_non_null(strstr(err.text, "512 ways together"));
        ks_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_kiln_of_the_folder_reads_whole),
        cmocka_unit_test(an_arch_lies_within_its_barrel),
        cmocka_unit_test(what_a_kiln_does_not_tell_has_a_marked_default),
        cmocka_unit_test(without_bays_the_shelf_lies_in_the_middle_on_three_posts),
        cmocka_unit_test(a_kiln_written_and_read_again_is_the_same),
        cmocka_unit_test(a_slip_in_a_kiln_is_told_with_its_place),
        cmocka_unit_test(more_shelvings_than_can_be_tried_are_refused_with_their_number),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
