#include "check.h"

#include "base/path.h"
#include "base/text.h"
#include "kilnstow/learn.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* What was lost, and by what. The factors are those of proportional fitting with a prior of two
 * losses: at its end what is expected of each value, and twice its factor, add up to what was lost
 * of it and two (Deming and Stephan 1940, Annals of Mathematical Statistics 11, 427, has the
 * margins alone; the prior is that of a gamma distribution of mean 1). */

static ks_arena arena;
static ks_error err;
static ks_book *book;
static char path[64];

static void begun(void)
{
    strcpy(path, "/tmp/kilnstow-losses-XXXXXX");
    int made = mkstemp(path);
    assert_true(made >= 0);
    close(made);
    if (ks_book_open(path, KS_BOOK_MAKE, &book, &err))
        fail_msg("%s", err.text);
}

static void ended(void)
{
    ks_book_close(book);
    unlink(path);
    ks_arena_finish(&arena);
}

static void fired(int n_ware, ks_ware_fired *ware, int n_losses, ks_loss *losses)
{
    ks_book_firing firing = {.mark = {.written = "2026-11-28T18:20:00Z"},
                             .plan = "abc",
                             .load = 1,
                             .kiln = "round-690",
                             .title = "",
                             .started = "2026-11-27 09:00",
                             .ended = "",
                             .kwh = NAN,
                             .meter_from = NAN,
                             .meter_to = NAN,
                             .meter_unit = "kWh",
                             .minutes = NAN,
                             .currency = "",
                             .note = "",
                             .struck = "",
                             .n_ware = n_ware,
                             .ware = ware,
                             .n_losses = n_losses,
                             .losses = losses};
    if (ks_book_write_firing(book, &firing, "{}", &err))
        fail_msg("%s", err.text);
}

static ks_losses learnt(void)
{
    ks_losses losses;
    if (ks_book_losses(book, &arena, &losses, &err))
        fail_msg("%s", err.text);
    return losses;
}

static void a_kind_that_breaks_more_is_told_apart(void **state)
{
    begun();
    ks_ware_fired ware[] = {{"mug", "ruth", "celadon", "top", 1000},
                            {"plate", "ruth", "celadon", "top", 1000}};
    ks_loss losses[] = {{"mug", 20, "cracked", "top"}, {"plate", 180, "warped", "top"}};
    fired(2, ware, 2, losses);
    ks_losses all = learnt();
    assert_int_equal(all.copies, 2000);
    check_near(all.rate, 0.1, 1e-12);
    const char *mug[] = {"mug", "celadon", "ruth", "top"};
    const char *plate[] = {"plate", "celadon", "ruth", "top"};
    check_near(ks_losses_rate(&all, mug), 0.02, 0.002);
    check_near(ks_losses_rate(&all, plate), 0.18, 0.002);
    ended();
}

/* Mugs all carry celadon: their losses are not counted once for the mug and once for the glaze. */
static void what_goes_together_is_not_counted_twice(void **state)
{
    begun();
    ks_ware_fired ware[] = {{"mug", "ruth", "celadon", "top", 500},
                            {"plate", "mo", "white", "bottom", 500}};
    ks_loss losses[] = {{"mug", 100, "cracked", ""}, {"plate", 10, "warped", ""}};
    fired(2, ware, 2, losses);
    ks_losses all = learnt();
    const char *mug[] = {"mug", "celadon", "ruth", "top"};
    check_near(ks_losses_rate(&all, mug), 0.2, 0.005);
    ended();
}

static void a_single_loss_moves_little(void **state)
{
    begun();
    ks_ware_fired ware[] = {{"mug", "ruth", "", "top", 990}, {"vase", "ruth", "", "top", 10}};
    ks_loss losses[] = {{"mug", 9, "cracked", ""}, {"vase", 1, "cracked", ""}};
    fired(2, ware, 2, losses);
    ks_losses all = learnt();
    const char *vase[] = {"vase", "", "ruth", "top"};
    double rate = ks_losses_rate(&all, vase);
    assert_true(rate > 0.011 && rate < 0.018); /* by itself 0.1 */
    const char *strange[] = {"bowl", "tenmoku", "mo", "bottom"};
    check_near(ks_losses_rate(&all, strange), all.rate, 1e-12);
    ended();
}

/* Two mugs of twelve, of which three quarters stood at the top. */
static void a_loss_without_place_is_spread_over_where_the_kind_stood(void **state)
{
    begun();
    ks_ware_fired ware[] = {{"mug", "ruth", "", "top", 9}, {"mug", "ruth", "", "bottom", 3}};
    ks_loss losses[] = {{"mug", 2, "cracked", ""}, {"mug", 1, "stuck", "bottom"}};
    fired(2, ware, 2, losses);
    ks_losses all = learnt();
    assert_int_equal(all.n[KS_LOST_BY_THIRD], 2);
    assert_string_equal(all.parts[KS_LOST_BY_THIRD][0].value, "bottom");
    check_near(all.parts[KS_LOST_BY_THIRD][0].lost, 1.5, 1e-12);
    check_near(all.parts[KS_LOST_BY_THIRD][1].lost, 1.5, 1e-12);
    check_near(all.lost, 3, 1e-12);
    ended();
}

enum { KINDS = 5, GLAZES = 3, OWNERS = 4, THIRDS = 3, CELLS = KINDS * GLAZES * OWNERS * THIRDS };

static double expected_of(const ks_losses *all, const ks_ware_fired *ware)
{
    const char *values[KS_LOST_BY] = {ware->piece, ware->glaze, ware->owner, ware->third};
    return ware->copies * ks_losses_rate(all, values);
}

static void the_margins_meet_what_was_lost(void **state)
{
    static const char *const names[] = {"a", "b", "c", "d", "e"};
    for (unsigned seed = 1; seed <= 20; seed++) {
        ks_ware_fired ware[CELLS];
        ks_loss losses[CELLS];
        unsigned drawn = seed;
        begun();
        for (int i = 0; i < CELLS; i++) {
            drawn = drawn * 1103515245u + 12345u;
            ware[i] = (ks_ware_fired){
                names[i % KINDS], names[i / KINDS % OWNERS], names[i / KINDS / OWNERS % GLAZES],
                names[i / KINDS / OWNERS / GLAZES], 20 + (int)(drawn >> 16) % 50};
            losses[i] = (ks_loss){ware[i].piece, (int)(drawn >> 24) % 3, "cracked", ware[i].third};
        }
        fired(CELLS, ware, CELLS, losses);
        ks_losses all = learnt();
        for (int p = 0; p < all.n[KS_LOST_BY_KIND]; p++) {
            const ks_loss_part *part = &all.parts[KS_LOST_BY_KIND][p];
            double expected = 0;
            for (int i = 0; i < CELLS; i++)
                expected +=
                    strcmp(ware[i].piece, part->value) == 0 ? expected_of(&all, &ware[i]) : 0;
            check_near(expected + 2 * part->factor, part->lost + 2, 1e-5);
        }
        ended();
    }
}

static void without_firings_nothing_is_said(void **state)
{
    begun();
    ks_losses all = learnt();
    const char *mug[] = {"mug", "", "", "top"};
    assert_int_equal(all.copies, 0);
    assert_true(ks_losses_rate(&all, mug) == 0);
    ended();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_kind_that_breaks_more_is_told_apart),
        cmocka_unit_test(what_goes_together_is_not_counted_twice),
        cmocka_unit_test(a_single_loss_moves_little),
        cmocka_unit_test(a_loss_without_place_is_spread_over_where_the_kind_stood),
        cmocka_unit_test(the_margins_meet_what_was_lost),
        cmocka_unit_test(without_firings_nothing_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
