#include "orders.h"

#include "studio/files/plan_file.h"

static const ks_stand odd_stand = {12.3456, -7.0005, 33.3335};

static ks_part *parts_placed(const ks_piece *piece, ks_arena *arena)
{
    ks_part *parts = KS_TAKE(arena, piece->n_parts, ks_part);
    for (int i = 0; i < piece->n_parts; i++) {
        parts[i] = piece->parts[i];
        parts[i].outline = ks_outline_place(&piece->parts[i].outline, odd_stand, arena);
        parts[i].outline = ks_outline_gridded(&parts[i].outline, arena);
    }
    return parts;
}

static ks_level *level_made(const ks_kiln *kiln, const ks_piece *piece, ks_arena *arena)
{
    ks_level *level = KS_TAKE(arena, 1, ks_level);
    *level = (ks_level){
        .bay = kiln->bays[0].id, .z_mm = 29, .gap_mm = 500, .n_shelves = 1, .n_pieces = 2};
    level->shelves = KS_TAKE(arena, 1, ks_shelf);
    level->shelves[0] =
        (ks_shelf){kiln->shelves[0].id, 0, kiln->shelves[0].outline, kiln->shelves[0].thickness_mm};
    level->pieces = KS_TAKE(arena, 2, ks_placed);
    ks_part *parts = parts_placed(piece, arena);
    level->pieces[0] = (ks_placed){.id = piece->id,
                                   .owner = piece->owner,
                                   .copy = 1,
                                   .stand = odd_stand,
                                   .glazed = piece->glazed,
                                   .top_mm = piece->height_mm,
                                   .n_parts = piece->n_parts,
                                   .parts = parts};
    level->pieces[1] = (ks_placed){.piece = -1,
                                   .id = "cones-1",
                                   .owner = "",
                                   .copy = 1,
                                   .role = KS_CONES,
                                   .on_id = piece->id,
                                   .on_copy = 1,
                                   .top_mm = 65,
                                   .n_parts = 1,
                                   .parts = parts};
    return level;
}

static ks_load *load_made(const ks_order *order, ks_arena *arena)
{
    static ks_step steps[] = {
        {KS_PUT_POSTS, -1, -1}, {KS_PUT_SHELF, 0, 0}, {KS_PUT_PIECE, 0, 0}, {KS_PUT_CONES, 0, 1}};
    const ks_kiln *kiln = &order->kilns[0];
    ks_load *load = KS_TAKE(arena, 1, ks_load);
    *load = (ks_load){.kiln_id = kiln->id,
                      .firing = order->firings[0],
                      .day = 20000,
                      .times = {true, 28800480, 28801080, 28801081, 28804500},
                      .height_mm = kiln->height_mm,
                      .n_parts = kiln->n_parts,
                      .parts = kiln->parts,
                      .clearance = ks_order_clearance(order, kiln),
                      .n_keep_outs = kiln->n_keep_outs,
                      .keep_outs = kiln->keep_outs,
                      .n_bays = 1,
                      .bays = KS_TAKE(arena, 1, ks_load_bay),
                      .n_posts = 1,
                      .posts = KS_TAKE(arena, 1, ks_post),
                      .n_levels = 1,
                      .levels = level_made(kiln, &order->pieces[0], arena),
                      .n_steps = 4,
                      .steps = steps};
    load->bays[0] = (ks_load_bay){kiln->bays[0].id, kiln->bays[0].outline};
    load->posts[0] = (ks_post){kiln->posts[0].outline, 0, 13, 2, {6.5, 6.5}};
    return load;
}

/* A plan with one of everything, made by hand from the sculptor's example. */
static ks_plan *plan_made(ks_arena *arena)
{
    ks_error err = {0};
    ks_order *order;
    if (ks_order_read("examples/forms/order.json", "kilns", arena, &order, &err) != KS_OK)
        fail_msg("%s", err.text);
    ks_left_out *left = KS_TAKE(arena, 2, ks_left_out);
    left[0] = (ks_left_out){1,         order->pieces[1].id,   2,   "too tall",
                            "by 3 mm", "a 13 mm longer post", {0}, {0}};
    left[1] = (ks_left_out){-1, "stranger", 1, "displaced", "", "no single change found", {0}, {0}};
    ks_plan *plan = KS_TAKE(arena, 1, ks_plan);
    *plan = (ks_plan){.version = "0.1.0",
                      .seed = UINT64_C(9007199254740993),
                      .rounds = 40,
                      .stopped_by = "rounds",
                      .order = order,
                      .objective = KS_BY_VOLUME,
                      .worth = 41.7,
                      .bound = 1.0 / 3 + 47,
                      .bound_kind = "area",
                      .n_loads = 1,
                      .loads = load_made(order, arena),
                      .n_left_out = 2,
                      .left_out = left};
    return plan;
}

static ks_status plan_from(const char *text, ks_arena *arena, ks_plan **plan, ks_error *err)
{
    workplace place = workplace_made();
    ks_status status = ks_plan_read(file_put(&place, "plan.json", text), arena, plan, err);
    workplace_left(&place);
    return status;
}

static void a_plan_read_and_written_again_has_the_same_bytes(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_plan *again;
    const char *text = ks_plan_json(plan_made(&arena), &arena);
    if (plan_from(text, &arena, &again, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_string_equal(ks_plan_json(again, &arena), text);
    const ks_load *load = &again->loads[0];
    assert_true(again->seed == UINT64_C(9007199254740993));
    assert_int_equal(load->kiln, 0);
    assert_int_equal(load->day, 20000);
    assert_int_equal(load->levels[0].shelves[0].kind, 0);
    assert_int_equal(load->levels[0].pieces[0].piece, 0);
    assert_int_equal(load->levels[0].pieces[1].piece, -1);
    assert_string_equal(load->levels[0].pieces[1].on_id, again->order->pieces[0].id);
    check_near(load->levels[0].pieces[0].stand.x, 12.346, 1e-12);
    assert_int_equal(load->steps[0].level, -1);
    assert_int_equal(load->steps[3].item, 1);
    assert_int_equal(again->left_out[1].piece, -1);
    ks_arena_finish(&arena);
}

/* Every example, normalised: sizes, prices, tags and all come back as they were. */
static void every_example_order_survives_in_a_plan(void **state)
{
    (void)state;
    static const char *const examples[] = {
        "examples/first/order.json", "examples/weekly/order.json", "examples/forms/order.json",
        "examples/backlog/order.json"};
    for (size_t i = 0; i < sizeof examples / sizeof examples[0]; i++) {
        ks_arena arena = {0};
        ks_error err = {0};
        ks_order *order;
        ks_plan *again;
        assert_int_equal(ks_order_read(examples[i], "kilns", &arena, &order, &err), KS_OK);
        ks_plan plan = {.version = "0", .stopped_by = "rounds", .bound_kind = "", .order = order};
        const char *text = ks_plan_json(&plan, &arena);
        if (plan_from(text, &arena, &again, &err) != KS_OK)
            fail_msg("%s", err.text);
        assert_string_equal(ks_plan_json(again, &arena), text);
        for (int j = 0; j < order->n_pieces; j++) {
            const ks_piece *a = &order->pieces[j], *b = &again->order->pieces[j];
            assert_true(a->worth == b->worth && a->mass_kg == b->mass_kg);
            assert_true(a->area_mm2 == b->area_mm2 && a->outward_mm == b->outward_mm);
            assert_true(a->tags == b->tags && a->turn_step_deg == b->turn_step_deg);
            assert_true(a->surface_mm2 == b->surface_mm2 && a->setter_mm == b->setter_mm);
        }
        ks_arena_finish(&arena);
    }
}

/* The text with its first `old` replaced. */
static const char *edited(const char *text, const char *old, const char *new, ks_arena *arena)
{
    const char *at = strstr(text, old);
    assert_non_null(at);
    return ks_arena_print(arena, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
}

/* It is there for people; what a file calls a level does not change what it is called. */
static void the_name_of_a_level_may_be_left_out(void **state)
{
    (void)state;
    static const char *const instead[] = {"", "\"name\": \"7 attic\", "};
    ks_arena arena = {0};
    const char *text = ks_plan_json(plan_made(&arena), &arena);
    for (size_t i = 0; i < sizeof instead / sizeof instead[0]; i++) {
        ks_error err = {0};
        ks_plan *plan;
        const char *changed = edited(text, "\"name\": \"1\",", instead[i], &arena);
        if (plan_from(changed, &arena, &plan, &err) != KS_OK)
            fail_msg("%s", err.text);
        assert_string_equal(ks_plan_json(plan, &arena), text);
    }
    ks_arena_finish(&arena);
}

static void two_people_with_one_plan_have_one_hash(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_plan *plan = plan_made(&arena);
    const char *hash = ks_plan_hash(plan, &arena);
    assert_int_equal(strlen(hash), 64);
    assert_string_equal(ks_plan_hash(plan, &arena), hash);
    plan->loads[0].levels[0].pieces[0].stand.x += 0.001;
    assert_string_not_equal(ks_plan_hash(plan, &arena), hash);
    ks_arena_finish(&arena);
}

static void the_gap_is_what_could_be_added_to_what_is_there(void **state)
{
    (void)state;
    ks_plan plan = {.worth = 40, .bound = 50};
    check_near(ks_plan_gap(&plan), 0.25, 1e-15);
    plan.worth = 0;
    assert_true(isinf(ks_plan_gap(&plan)));
    plan.bound = 0;
    check_near(ks_plan_gap(&plan), 0, 0);
}

static void a_plan_edited_by_hand_is_read_with_care(void **state)
{
    (void)state;
    static const struct {
        const char *old, *new, *told;
    } cases[] = {
        {"\"format\": \"kilnstow-plan/1\"", "\"format\": \"kilnstow-plan/9\"", "kilnstow-plan/1"},
        {"\"seed\": 9007199254740993", "\"seed\": 1.5", "seed: found 1.5"},
        {"\"worth\": 41.7", "\"worht\": 41.7", "worht: found an unknown key"},
        {"\"turn\": 33.334", "\"turn\": \"a bit\"", "turn: found \"a bit\""},
        {"\"gap\": 500,", "", "gap: found nothing"},
        {"\"name\": \"1\"", "\"name\": 1", "levels[1].name: found 1"},
        {"\"heights\": [6.5, 6.5]", "\"heights\": []", "heights: found"},
        {"\"put\": \"shelf\", \"ref\": {\"level\": 1, \"item\": 1}",
         "\"put\": \"shelf\", \"ref\": {\"level\": 1, \"item\": 7}",
         "steps[2]: it refers to level 1, item 7, which this load has not"},
        {"\"why\": \"too tall\", ", "", "left_out[1].why: found nothing"},
    };
    ks_arena arena = {0};
    const char *text = ks_plan_json(plan_made(&arena), &arena);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        ks_error err = {0};
        ks_plan *plan;
        const char *changed = edited(text, cases[i].old, cases[i].new, &arena);
        assert_int_equal(plan_from(changed, &arena, &plan, &err), KS_BAD_INPUT);
        if (!strstr(err.text, cases[i].told))
            fail_msg("wanted \"%s\" in \"%s\"", cases[i].told, err.text);
    }
    ks_arena_finish(&arena);
}

/* Two processes that have the order hand a plan on without it and without what pieces are made of;
 * the file then begins as the one says, and goes on as the other wrote it. */
static void a_plan_in_brief_goes_with_the_text_of_the_whole(void **state)
{
    (void)state;
    ks_arena arena = {0};
    ks_error err = {0};
    ks_plan *whole = plan_made(&arena), *brief;
    const char *text = ks_plan_json(whole, &arena), *told = ks_plan_brief(whole, &arena);
    assert_true(strlen(told) < strlen(text) / 2);
    if (ks_plan_brief_parse(told, whole->order, &arena, &brief, &err) != KS_OK)
        fail_msg("%s", err.text);
    assert_int_equal(ks_plan_placed(brief), ks_plan_placed(whole));
    assert_int_equal(ks_plan_waiting(brief), ks_plan_waiting(whole));
    assert_int_equal(brief->loads[0].levels[0].pieces[0].n_parts, 0);
    brief->rounds = whole->rounds = 77;
    brief->stopped_by = whole->stopped_by = "interrupt";
    assert_string_equal(ks_plan_retold(brief, text, &arena), ks_plan_json(whole, &arena));
    ks_arena_finish(&arena);
}

/* A load of many pieces of many corners is longer than any file that people write. */
static void a_plan_may_be_longer_than_a_file_written_by_hand(void **state)
{
    (void)state;
    enum { MIB = 1024 * 1024, LARGEST = 32 * MIB };
    ks_arena arena = {0};
    const char *text = ks_plan_json(plan_made(&arena), &arena);
    char *padded = KS_TAKE(&arena, LARGEST + 1, char);
    memset(padded, ' ', LARGEST + 1);
    memcpy(padded, text, strlen(text));
    ks_plan *plan;
    ks_error err = {0};
    assert_int_equal(ks_plan_parse("p", padded, LARGEST, &arena, &plan, &err), KS_OK);
    assert_int_equal(ks_plan_parse("p", padded, LARGEST + 1, &arena, &plan, &err), KS_BAD_INPUT);
    assert_non_null(strstr(err.text, "p: found more than 32 MiB"));
    ks_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_plan_read_and_written_again_has_the_same_bytes),
        cmocka_unit_test(every_example_order_survives_in_a_plan),
        cmocka_unit_test(the_name_of_a_level_may_be_left_out),
        cmocka_unit_test(two_people_with_one_plan_have_one_hash),
        cmocka_unit_test(the_gap_is_what_could_be_added_to_what_is_there),
        cmocka_unit_test(a_plan_edited_by_hand_is_read_with_care),
        cmocka_unit_test(a_plan_in_brief_goes_with_the_text_of_the_whole),
        cmocka_unit_test(a_plan_may_be_longer_than_a_file_written_by_hand),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
