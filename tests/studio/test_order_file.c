#include "orders.h"

static void every_example_order_reads(void **state)
{
    (void)state;
    static const struct {
        const char *path;
        int least_copies;
    } examples[] = {{"examples/first/order.json", 20},
                    {"examples/weekly/order.json", 110},
                    {"examples/forms/order.json", 10},
                    {"examples/backlog/order.json", 550}};
    for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        if (ks_order_read(examples[i].path, "kilns", &arena, &order, &err) != KS_OK)
            fail_msg("%s", err.text);
        int copies = 0;
        for (int j = 0; j < order->n_pieces; j++) {
            const ks_piece *piece = &order->pieces[j];
            copies += piece->count;
            assert_true(piece->mass_kg > 0.01 && piece->wall_mm > 1 && piece->worth > 0);
            for (int k = 0; k < piece->n_parts; k++) {
                assert_null(ks_outline_fault(&piece->parts[k].outline));
                assert_true(piece->parts[k].from_mm < piece->parts[k].to_mm);
            }
        }
        assert_true(copies >= examples[i].least_copies);
        ks_arena_finish(&arena);
    }
}

static void loads_stand_in_order_of_day(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    workplace place = workplace_made();
    const char *text =
        "{\"format\": \"kilnstow-order/1\", \"firings\": [{\"id\": \"a\", \"cone\": \"6\"}, "
        "{\"id\": \"b\", \"cone\": \"04\"}], \"kilns\": [\"round-450\", {\"kiln\": \"round-580\", "
        "\"dates\": [\"2026-12-09\", \"2026-12-02\"], \"firings\": [\"a\", \"b\"]}, "
        "{\"kiln\": \"round-450\", \"loads\": 2, \"firings\": [\"b\"]}], "
        "\"ware\": [{\"id\": \"a\", \"diameter\": \"9 cm\", \"height\": \"9 cm\"}]}";
    if (ks_order_read(file_put(&place, "o.json", text), "kilns", &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_int_equal(order->n_kilns, 2);
    assert_int_equal(order->n_slots, 5);
    assert_int_equal(order->slots[0].firing, 1);
    assert_int_equal(order->slots[0].kiln, 1);
    assert_int_equal(order->slots[1].firing, 0);
    assert_int_equal(order->slots[1].day - order->slots[0].day, 7);
    const int firings[] = {-1, 1, 1};
    for (int i = 2; i < 5; i++) {
        assert_int_equal(order->slots[i].kiln, 0);
        assert_int_equal(order->slots[i].day, KS_NO_DAY);
        assert_int_equal(order->slots[i].firing, firings[i - 2]);
    }
    workplace_left(&place);
    ks_arena_finish(&arena);
}

static void glazes_bring_tags_and_runs_to_their_ware(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(
        order_from(
            "\"glazes\": [{\"id\": \"green\", \"tags\": [\"chrome\"], \"runny\": true}, "
            "{\"id\": \"white\", \"tags\": [\"tin\"]}],\n\"ware\": [{\"id\": \"a\", "
            "\"diameter\": 80, \"height\": 90, \"glazes\": [\"green\", \"white\"], \"tags\": "
            "[\"gift\"]}, {\"id\": \"b\", \"diameter\": 80, \"height\": 90, \"glaze\": "
            "\"green\", \"runny\": false}],\n\"rules\": {\"apart\": [{\"tags\": [\"chrome\", "
            "\"tin\"], \"by\": \"load\"}]}",
            &arena, &order, &err),
        KS_OK);
    assert_int_equal(order->n_tags, 3);
    assert_int_equal(order->pieces[0].tags, 7);
    assert_int_equal(order->pieces[1].tags, 1);
    assert_true(order->pieces[0].runny);
    assert_false(order->pieces[1].runny);
    assert_int_equal(order->rules.apart[0].a, 1);
    assert_int_equal(order->rules.apart[0].b, 2);
    assert_true(order->rules.apart[0].whole_load);
    ks_arena_finish(&arena);
}

/* 15 mm is common practice, no source; what is told counts, and a cookie catches what runs. */
static void runny_ware_asks_for_room_of_its_own(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(
        order_from(
            "\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"runny\": true}, "
            "{\"id\": \"b\", \"diameter\": 80, \"height\": 90, \"runny\": true, \"around\": 5}, "
            "{\"id\": \"c\", \"diameter\": 80, \"height\": 90, \"runny\": true, \"stage\": "
            "\"fired\", \"setter\": {\"kind\": \"cookie\"}}, {\"id\": \"d\", \"diameter\": 80, "
            "\"height\": 90}, {\"id\": \"e\", \"diameter\": 80, \"height\": 90, \"runny\": true, "
            "\"stage\": \"fired\"}], \"rules\": {\"fewest_levels\": true}",
            &arena, &order, &err),
        KS_OK);
    static const double around[] = {15, 5, 0, 0, 15};
    for (int i = 0; i < 5; i++)
        check_near(order->pieces[i].around_mm, around[i], 0);
    assert_non_null(strstr(order->pieces[0].defaults, "around"));
    assert_int_equal(order->n_warnings, 1);
    assert_non_null(strstr(order->warnings[0], "stilt or cookie"));
    assert_true(order->rules.fewest_levels);
    ks_arena_finish(&arena);
}

static ks_level_wish wish_read(const char *keep, ks_status wanted)
{
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    const char *body = ks_arena_print(
        &arena, "\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"keep\": %s}]",
        keep);
    assert_int_equal(order_from(body, &arena, &order, &err), wanted);
    ks_level_wish wish = {KS_ANY_LEVEL, 0, NULL};
    if (wanted == KS_OK) {
        assert_false(order->pieces[0].keep.kept);
        wish = order->pieces[0].wish;
    }
    ks_arena_finish(&arena);
    return wish;
}

static void a_level_is_wished_for_in_words(void **state)
{
    (void)state;
    assert_int_equal(wish_read("{\"level\": \"bottom\"}", KS_OK).word, KS_BOTTOM);
    assert_int_equal(wish_read("{\"level\": \"low\"}", KS_OK).word, KS_LOW);
    assert_int_equal(wish_read("{\"level\": \"top\"}", KS_OK).word, KS_TOP);
    ks_level_wish on = wish_read("{\"level\": 3}", KS_OK),
                  off = wish_read("{\"level\": {\"not\": 2}}", KS_OK);
    assert_true(on.word == KS_ON_TIER && on.tier == 3);
    assert_true(off.word == KS_NOT_ON_TIER && off.tier == 2);
    assert_int_equal(wish_read("\"low\"", KS_OK).word, KS_LOW);
    on = wish_read("\"level 3\"", KS_OK);
    off = wish_read("\"not 2\"", KS_OK);
    assert_true(on.word == KS_ON_TIER && on.tier == 3);
    assert_true(off.word == KS_NOT_ON_TIER && off.tier == 2);
    wish_read("\"deep\"", KS_BAD_INPUT);
    wish_read("\"not 0\"", KS_BAD_INPUT);
    wish_read("\"beside a\"", KS_BAD_INPUT);
    wish_read("{\"beside\": \"b\"}", KS_BAD_INPUT);
    wish_read("{\"level\": \"lowest\"}", KS_BAD_INPUT);
    wish_read("{\"level\": 0}", KS_BAD_INPUT);
    wish_read("{\"level\": {\"not\": 0}}", KS_BAD_INPUT);
    wish_read("{}", KS_BAD_INPUT);
    wish_read("{\"level\": 1, \"x\": 3}", KS_BAD_INPUT);
}

static const ks_order *rules_read(const char *rules, ks_arena *arena, ks_status wanted)
{
    ks_error err = {0};
    ks_order *order = NULL;
    const char *body = ks_arena_print(
        arena,
        "\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"tags\": [\"plate\"]}, "
        "{\"id\": \"b\", \"diameter\": 80, \"height\": 90, \"keep\": \"beside a\"}], "
        "\"rules\": {%s}",
        rules);
    assert_int_equal(order_from(body, arena, &order, &err), wanted);
    return order;
}

static void levels_and_heights_are_told_to_take_no_ware(void **state)
{
    (void)state;
    ks_arena arena = {0};
    const ks_rules *rules =
        &rules_read("\"low\": [\"plate\"], \"no_ware\": [{\"level\": \"top\"}, {\"level\": 2}, "
                    "{\"from\": \"1 in\", \"to\": \"4 in\"}]",
                    &arena, KS_OK)
             ->rules;
    assert_true(rules->low_tags == 1 && rules->n_no_ware == 3);
    assert_int_equal(rules->no_ware[0].level.word, KS_TOP);
    assert_true(rules->no_ware[1].level.word == KS_ON_TIER && rules->no_ware[1].level.tier == 2);
    check_near(rules->no_ware[2].from_mm, 25.4, 1e-9);
    check_near(rules->no_ware[2].to_mm, 101.6, 1e-9);
    rules_read("\"low\": [\"plates\"]", &arena, KS_BAD_INPUT);
    rules_read("\"no_ware\": [{\"level\": \"low\"}]", &arena, KS_BAD_INPUT);
    rules_read("\"no_ware\": [{\"from\": 3}]", &arena, KS_BAD_INPUT);
    rules_read("\"no_ware\": [{\"from\": 30, \"to\": 30}]", &arena, KS_BAD_INPUT);
    rules_read("\"no_ware\": [{\"level\": 1, \"to\": 30}]", &arena, KS_BAD_INPUT);
    rules_read("\"no_ware\": [{}]", &arena, KS_BAD_INPUT);
    ks_arena_finish(&arena);
}

static void a_rate_follows_the_way_it_leads(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    assert_int_equal(
        order_from("\"schedules\": [{\"id\": \"s\", \"segments\": [{\"rate\": \"180 F/h\", \"to\": "
                   "\"2192 F\", \"hold\": \"20 min\"}, {\"rate\": 50, \"to\": 900}, {\"to\": "
                   "700}]}]",
                   &arena, &order, &err),
        KS_OK);
    const ks_segment *segments = order->schedules[0].segments;
    check_near(segments[0].rate_c_h, 100, 1e-9);
    check_near(segments[0].target_c, 1200, 1e-9);
    check_near(segments[0].hold_h, 1.0 / 3, 1e-12);
    check_near(segments[1].rate_c_h, -50, 0);
    check_near(segments[2].rate_c_h, 0, 0);
    ks_arena_finish(&arena);
}

static void a_kiln_is_told_in_one_line(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    workplace place = workplace_made();
    const char *text =
        "{\"format\": \"kilnstow-order/1\", \"units\": {\"length\": \"cm\"}, \"firings\": "
        "[{\"id\": "
        "\"a\", \"cone\": \"6\"}], \"kilns\": [{\"kiln\": \"ours\", \"width\": 58, \"depth\": 69, "
        "\"sides\": 10, \"shelves\": 5, \"posts\": {\"2.5\": 12, \"51 mm\": 9}, \"loads\": 2}, "
        "{\"width\": \"30 in\", \"depth\": \"24 in\", \"height\": \"36 in\", \"loading\": "
        "\"front\"}, {\"width\": 33, \"depth\": 30}]" SOME_WARE "}";
    if (ks_order_read(file_put(&place, "o.json", text), "kilns", &arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    const ks_kiln *ours = &order->kilns[0], *front = &order->kilns[1], *round = &order->kilns[2];
    assert_int_equal(order->n_slots, 4);
    assert_string_equal(ours->id, "ours");
    check_near(ours->height_mm, 690, 0);
    assert_int_equal(ours->parts[0].outline.n, 10);
    assert_int_equal(ours->shelves[0].count, 5);
    check_near(ks_outline_box(&ours->shelves[0].outline).y1, 267, 1e-6); /* as of round-580 */
    assert_int_equal(ours->n_posts, 2);
    check_near(ours->posts[0].height_mm, 25, 0);
    assert_int_equal(ours->posts[0].count, 12);
    assert_int_equal(front->loading, KS_FRONT_LOADER);
    check_near(front->opening_width_mm, 762, 1e-9);
    check_near(front->height_mm, 914.4, 1e-9);
    check_near(ks_outline_box(&front->parts[0].outline).y1, 304.8, 1e-3);
    assert_int_equal(round->parts[0].outline.n, 1);
    assert_true(round->n_posts > 5 && round->shelves[0].count > 1);
    assert_int_equal(order->n_warnings, 3);
    assert_non_null(strstr(order->warnings[0],
                           "the kiln \"ours\" is given by its size alone; assumed are: "
                           "top loader, shelves of cordierite 23 mm off"));
    workplace_left(&place);
    ks_arena_finish(&arena);
}

/* `rest` of an order, what the one message must hold. */
static const struct {
    const char *rest, *told;
} slips[] = {
    {"\"wear\": []", ":2: wear: found an unknown key; did you mean \"ware\"?"},
    {"\"ware\": {}", ":2: ware: found an object"},
    {"\"ware\": [3]", ":2: ware[1]: found 3"},
    {"\"ware\": [{\"diameter\": 80, \"height\": 90}]", ":2: ware[1].id: found nothing"},
    {"\"ware\": [{\"id\": \"a\"}]", ":2: ware[1]: its sizes are missing"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80}]", ":2: ware[1].height: found nothing"},
    {"\"ware\": [{\"id\": \"a\", \"width\": 80, \"height\": 9}]",
     ":2: ware[1].depth: found nothing"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": -80, \"height\": 90}]",
     ":2: ware[1].diameter: found -80; it must be from 1 to 5000 mm"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": \"80 mn\", \"height\": 90}]",
     ":2: ware[1].diameter: found \"80 mn\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"count\": 0}]",
     ":2: ware[1].count: found 0"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"stage\": \"biscuit\"}]",
     ":2: ware[1].stage: found \"biscuit\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"clay\": \"buf\"}]",
     ":2: ware[1].clay: found \"buf\", but no clay is described"},
    {"\"clays\": [{\"id\": \"buff\"}, {\"id\": \"red\"}], \"ware\": [{\"id\": \"a\", \"diameter\": "
     "80, \"height\": 90, \"clay\": \"buf\"}]",
     "ware[1].clay: found \"buf\", but there is no such clay; the nearest is \"buff\""},
    {"\"glazes\": [{\"id\": \"clear\"}, {\"id\": \"white\"}], \"ware\": [{\"id\": \"a\", "
     "\"diameter\": 80, \"height\": 90, \"glaze\": \"cleer\"}]",
     "ware[1].glaze: found \"cleer\", but there is no such glaze; the nearest is \"clear\""},
    {"\"members\": [{\"id\": \"ines\"}, {\"id\": \"bram\"}], \"ware\": [{\"id\": \"a\", "
     "\"diameter\": 80, \"height\": 90, \"owner\": \"inez\"}]",
     "ware[1].owner: found \"inez\", but there is no such member; the nearest is \"ines\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"glaze\": \"x\", \"glazes\": "
     "[]}]",
     "found both \"glaze\" and \"glazes\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90}, {\"id\": \"a\", \"diameter\": "
     "80, \"height\": 90}]",
     ":2: ware[2]: the id \"a\" was already given on line 2"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"width\": 20}]",
     "found both \"diameter\" and \"width\""},
    {"\"ware\": [{\"id\": \"a\", \"profile\": [[0, 30]]}]", "ware[1].profile: found"},
    {"\"ware\": [{\"id\": \"a\", \"profile\": [[5, 30], [50, 40]]}]",
     "ware[1].profile[1]: found a height of 5 mm; the first is 0"},
    {"\"ware\": [{\"id\": \"a\", \"profile\": [[0, 30], [50, 40], [40, 40]]}]",
     "ware[1].profile[3]: found a height of 40 mm after 50"},
    {"\"ware\": [{\"id\": \"a\", \"profile\": [[0, 30], [50, -4]]}]",
     "ware[1].profile[2]: found a radius of -4 mm"},
    {"\"ware\": [{\"id\": \"a\", \"profile\": [[0, 30], [50, 40]], \"height\": 60}]",
     "ware[1].height: found 60 mm, but by its profile it is 50 mm"},
    {"\"ware\": [{\"id\": \"a\", \"parts\": []}]", "ware[1].parts: found no foot or body"},
    {"\"ware\": [{\"id\": \"a\", \"parts\": [{\"from\": 5, \"to\": 9, \"outline\": {\"circle\": "
     "[0, 0, 9]}}]}]",
     "ware[1].parts: the lowest part starts at 5 mm"},
    {"\"ware\": [{\"id\": \"a\", \"parts\": [{\"from\": 9, \"to\": 5, \"outline\": {\"circle\": "
     "[0, 0, 9]}}]}]",
     "ware[1].parts[1]: found it from 9 to 5 mm"},
    {"\"ware\": [{\"id\": \"a\", \"height\": 9, \"outline\": {\"polygon\": [[0, 0], [9, 9], [9, "
     "0], "
     "[0, 9]]}}]",
     "ware[1].outline: this outline cannot be used"},
    {"\"ware\": [{\"id\": \"a\", \"height\": 9, \"outline\": {\"circle\": [0, 0]}}]",
     "ware[1].outline.circle: found"},
    {"\"ware\": [{\"id\": \"a\", \"height\": 9, \"outline\": {\"rectangle\": [30, 20], \"corner\": "
     "15}}]",
     "ware[1].outline.corner: found 15; it must be from 0 to 10 mm"},
    {"\"ware\": [{\"id\": \"a\", \"height\": 9, \"outline\": {\"square\": 3}}]",
     "ware[1].outline.square: found an unknown key"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"handle\": {\"reach\": 30, "
     "\"width\": 20, \"from\": 60, \"to\": 20}}]",
     "ware[1].handle: found it from 60 to 20 mm"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"setter\": {\"stage\": "
     "\"wet\"}}]",
     "ware[1].setter.stage: found \"wet\"; a wet slab bursts"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"setter\": {\"stage\": "
     "\"leather-hard\"}}]",
     "a wet slab bursts"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"setter\": {\"kind\": "
     "\"brick\"}}]",
     "ware[1].setter.kind: found \"brick\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"turn\": \"sideways\"}]",
     "ware[1].turn: found \"sideways\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"keep\": {\"level\": 1, \"x\": "
     "0, \"y\": 0, \"bay\": \"attic\"}}]",
     "ware[1].keep.bay: found \"attic\", but no kiln has such a bay"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"keep\": {\"load\": 2, "
     "\"level\": 1, \"x\": 0, \"y\": 0}}]",
     "ware[1].keep: found load 2, but the order plans 1 at most"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"on\": {\"id\": \"b\"}}, "
     "{\"id\": \"c\", \"diameter\": 80, \"height\": 90}]",
     "ware[1].on.id: found \"b\", but there is no such piece"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"on\": {\"id\": \"a\"}}]",
     "it cannot stand on itself"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"due\": \"2026-02-30\"}]",
     "ware[1].due: found \"2026-02-30\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"price\": \"12.505\"}]",
     "ware[1].price: found \"12.505\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"cones\": [\"6\", \"04\"]}]",
     "ware[1].cones: cone 6 is hotter than cone 04"},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"mass\": 1, \"wet_ball\": 1}]",
     "found both \"mass\" and \"wet_ball\""},
    {"\"ware\": [{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"atmosphere\": \"smoky\"}]",
     "ware[1].atmosphere: found \"smoky\"; it must be \"oxidation\" or \"reduction\""},
    {"\"ware_files\": [\"nowhere.csv\"]", "nowhere.csv: cannot"},
    {"\"ware_files\": \"ware.csv\"", ":2: ware_files: found \"ware.csv\""},
    {"\"clays\": [{\"id\": \"a\", \"bar\": {\"wet\": 100}}]", "clays[1].bar: found"},
    {"\"clays\": [{\"id\": \"a\", \"bar\": {\"wet\": 100, \"bisk\": 94}}]",
     "clays[1].bar.bisk: found \"bisk\""},
    {"\"clays\": [{\"id\": \"a\", \"shrinkage\": 12}]", "clays[1].shrinkage: found 12"},
    {"\"clays\": [{\"id\": \"a\", \"cones\": [\"4\", \"66\"]}]", "clays[1].cones[2]: found \"66\""},
    {"\"clays\": [{\"id\": \"a\", \"price_per_kg\": true}]", "clays[1].price_per_kg: found true"},
    {"\"glazes\": [{\"id\": \"a\", \"base\": {\"silica\": 20}}]",
     "glazes[1].base.silica: found \"silica\", but no material is described"},
    {"\"materials\": [{\"id\": \"a\", \"price\": 3}]", "materials[1].pack: found nothing"},
    {"\"members\": [{\"id\": \"\"}]", "members[1].id: found \"\""},
    {"\"schedules\": [{\"id\": \"a\", \"segments\": []}]", "schedules[1].segments: found nothing"},
    {"\"schedules\": [{\"id\": \"a\", \"segments\": [{\"rate\": -60, \"to\": 900}]}]",
     "schedules[1].segments[1]: found a rate of -60 C/h towards 900 C"},
    {"\"rules\": {\"objective\": \"profit\"}", "rules.objective: found \"profit\""},
    {"\"rules\": {\"apart\": [{\"tags\": [\"a\", \"b\"]}]}", "rules.apart[1].tags[1]: found \"a\""},
    {"\"rules\": {\"cones\": {\"on\": [\"roof\"]}}", "rules.cones.on[1]: found \"roof\""},
    {"\"rules\": {\"clearances\": {\"ware\": -1}}", "rules.clearances.ware: found -1"},
    {"\"currency\": \"EURO\"", "currency: found \"EURO\""},
    {"\"display\": {\"length\": \"ell\"}", "display.length: found \"ell\""},
    {"\"title\": 7", "title: found 7"},
};

static void every_slip_is_told_once_with_its_place(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof slips / sizeof slips[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order = NULL;
        ks_status status = order_from(slips[i].rest, &arena, &order, &err);
        if (status == KS_OK)
            fail_msg("accepted: %s", slips[i].rest);
        assert_null(order);
        if (!strstr(err.text, slips[i].told) || !strstr(err.text, "order.json:"))
            if (!strstr(err.text, slips[i].told) || !strstr(slips[i].told, "nowhere.csv"))
                fail_msg("wanted \"%s\" in \"%s\"", slips[i].told, err.text);
        if (!strstr(slips[i].told, "rules.apart"))
            assert_int_equal(err.count, 1);
        ks_arena_finish(&arena);
    }
}

static void what_stands_around_the_ware_is_told_too(void **state)
{
    (void)state;
    static const struct {
        const char *text, *told;
    } cases[] = {
        {"{}", "format"},
        {"[]", "found an array"},
        {"{\"format\": \"kilnstow-kiln/1\"}", "kilnstow-order/1"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [\"round-580\"]}",
         "firings: found nothing"},
        {"{\"format\": \"kilnstow-order/1\", \"firings\": [{\"id\": \"a\", \"cone\": \"6\"}]}",
         "kilns: found nothing"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [\"round-58\"], \"firings\": [{\"id\": "
         "\"a\", \"cone\": \"6\"}]}",
         "kilns[1]: found \"round-58\", but there is no such kiln, neither beside the order nor in "
         "kilns; the nearest is round-580"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [\"round-580\"], \"firings\": [{\"id\": "
         "\"a\"}]}",
         "firings[1].cone: found nothing"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [\"round-580\"], \"firings\": [{\"id\": "
         "\"a\", \"cone\": 6, \"schedule\": \"x\"}]}",
         "firings[1].schedule: found \"x\", but no schedule is described"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [{\"kiln\": \"round-580\", \"loads\": 2, "
         "\"dates\": [\"2026-12-01\"]}], \"firings\": [{\"id\": \"a\", \"cone\": 6}]}",
         "kilns[1].dates: found 1 dates for 2 loads"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [{\"loads\": 2}], \"firings\": [{\"id\": "
         "\"a\", \"cone\": 6}]}",
         "kilns[1].kiln: found nothing"},
        {"{\"format\": \"kilnstow-order/1\", \"kilns\": [\"round-580\"], \"firings\": [{\"id\": "
         "\"a\", \"cone\": 6}], \"ware\": [{\"id\": \"a\", \"diameter\": 3, \"height\": \"4 "
         "in\"}]}",
         "ware[1].diameter: found 3"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        workplace place = workplace_made();
        ks_status status =
            ks_order_read(file_put(&place, "o.json", cases[i].text), "kilns", &arena, &order, &err);
        assert_int_equal(status, KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].told))
            fail_msg("wanted \"%s\" in \"%s\"", cases[i].told, err.text);
        assert_int_equal(err.count, 1);
        workplace_left(&place);
        ks_arena_finish(&arena);
    }
}

static void sizes_that_look_like_another_unit_are_doubted(void **state)
{
    (void)state;
    static const struct {
        const char *piece, *told;
    } cases[] = {
        {"{\"id\": \"a\", \"diameter\": 3.25, \"height\": 3.75}",
         "is very small; was another unit meant?"},
        {"{\"id\": \"a\", \"diameter\": 840, \"height\": 960}", "larger than any kiln"},
        {"{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"mass\": 300}",
         "heavier than any ware"},
        {"{\"id\": \"a\", \"diameter\": 80, \"height\": 90, \"mass\": 0.002}",
         "lighter than any ware"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_arena arena = {0};
        ks_order *order;
        (void)piece_from(cases[i].piece, &arena, &order);
        assert_true(order->n_warnings >= 1);
        assert_non_null(strstr(order->warnings[0], cases[i].told));
        ks_arena_finish(&arena);
    }
}

/* An order with n kinds of pieces. */
static ks_status order_of_kinds(int n, ks_error *err)
{
    ks_arena arena = {0};
    ks_order *order;
    size_t room = (size_t)n * 64 + 100;
    char *rest = malloc(room);
    assert_non_null(rest);
    size_t used = (size_t)snprintf(rest, room, "\"ware\": [");
    for (int i = 0; i < n; i++)
        used += (size_t)snprintf(rest + used, room - used,
                                 "%s{\"id\": \"p%d\", \"diameter\": 80, \"height\": 90}",
                                 i ? ", " : "", i);
    (void)snprintf(rest + used, room - used, "]");
    ks_status status = order_from(rest, &arena, &order, err);
    free(rest);
    ks_arena_finish(&arena);
    return status;
}

/* What people try first: the table itself as order, then the table where its rows belong. */
static void a_table_is_told_how_an_order_names_it(void **state)
{
    workplace place = workplace_made();
    const char *table = file_put(&place, "ware.csv", "name;diameter;height;count\nmug;9;10;4\n");
    ks_arena arena = {0};
    ks_order *order = NULL;
    ks_error err = {0};
    assert_int_equal(ks_order_read(table, "kilns", &arena, &order, &err), KS_BAD_INPUT);
    const char *told = strstr(err.text, "{\"format\"");
    assert_non_null(told);
    assert_int_equal(
        ks_order_read(file_put(&place, "told.json", told), "kilns", &arena, &order, NULL), KS_OK);
    assert_int_equal(order->n_pieces, 1);
    check_near(order->pieces[0].height_mm, 100, 1e-9);
    char *text = ks_arena_text(&arena, told);
    err = (ks_error){0};
    const char instead[] = "\"ware\": \"ware.csv\"        ";
    memcpy(strstr(text, "\"ware_files\": [\"ware.csv\"]"), instead, strlen(instead));
    assert_int_equal(
        ks_order_read(file_put(&place, "so.json", text), "kilns", &arena, &order, &err),
        KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "\"ware_files\": [\"ware.csv\"]"));
    workplace_left(&place);
    ks_arena_finish(&arena);
}

static void five_thousand_kinds_are_read_and_one_more_refused(void **state)
{
    (void)state;
    ks_error err = {0};
    assert_int_equal(order_of_kinds(5000, &err), KS_OK);
    assert_int_equal(order_of_kinds(5001, &err), KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "5000"));
}

/* A star of n points, drawn as a polygon. */
static ks_status order_of_polygon(int n)
{
    ks_arena arena = {0};
    ks_order *order;
    ks_error err = {0};
    char rest[16000];
    size_t used = (size_t)snprintf(rest, sizeof rest,
                                   "\"ware\": [{\"id\": \"a\", \"height\": 20, \"outline\": "
                                   "{\"polygon\": [");
    for (int i = 0; i < n; i++)
        used += (size_t)snprintf(rest + used, sizeof rest - used, "%s[%.3f, %.3f]", i ? ", " : "",
                                 100 * cos(6.283185307 * i / n), 100 * sin(6.283185307 * i / n));
    (void)snprintf(rest + used, sizeof rest - used, "]}}]");
    ks_status status = order_from(rest, &arena, &order, &err);
    ks_arena_finish(&arena);
    return status;
}

static void a_polygon_has_at_most_256_vertices(void **state)
{
    (void)state;
    assert_int_equal(order_of_polygon(255), KS_OK);
    assert_int_equal(order_of_polygon(256), KS_OK);
    assert_int_equal(order_of_polygon(257), KS_BAD_INPUT);
}

static void twenty_slips_are_told_and_the_rest_counted(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_order *order;
    char rest[4000] = "\"ware\": [";
    for (int i = 0; i < 30; i++)
        (void)snprintf(rest + strlen(rest), sizeof rest - strlen(rest),
                       "%s{\"id\": \"p%d\", \"diameter\": 0, \"height\": 90}", i ? ", " : "", i);
    strcat(rest, "]");
    assert_int_equal(order_from(rest, &arena, &order, &err), KS_BAD_INPUT);
    assert_int_equal(err.count, 30);
    assert_non_null(strstr(err.text, "ware[20].diameter"));
    assert_null(strstr(err.text, "ware[21].diameter"));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_example_order_reads),
        cmocka_unit_test(loads_stand_in_order_of_day),
        cmocka_unit_test(glazes_bring_tags_and_runs_to_their_ware),
        cmocka_unit_test(a_kiln_is_told_in_one_line),
        cmocka_unit_test(a_level_is_wished_for_in_words),
        cmocka_unit_test(levels_and_heights_are_told_to_take_no_ware),
        cmocka_unit_test(runny_ware_asks_for_room_of_its_own),
        cmocka_unit_test(a_rate_follows_the_way_it_leads),
        cmocka_unit_test(every_slip_is_told_once_with_its_place),
        cmocka_unit_test(a_table_is_told_how_an_order_names_it),
        cmocka_unit_test(what_stands_around_the_ware_is_told_too),
        cmocka_unit_test(sizes_that_look_like_another_unit_are_doubted),
        cmocka_unit_test(five_thousand_kinds_are_read_and_one_more_refused),
        cmocka_unit_test(a_polygon_has_at_most_256_vertices),
        cmocka_unit_test(twenty_slips_are_told_and_the_rest_counted),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
