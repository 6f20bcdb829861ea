/* Records as loggers write them, and how they lie beside a simulated firing. The files are
 * invented; what they must read as is worked out by hand beside each. */
#include "app/measured/measured.h"
#include "base/text.h"
#include "check.h"
#include "kilnstow/cone.h"

#include <string.h>

static ks_arena arena;
static ks_error err;

static const ks_measured_hint cone_6 = {10, 1222};

static ks_status parsed(const char *text, ks_measured *out)
{
    err = (ks_error){0};
    return ks_measured_parse("kiln.csv", text, strlen(text), cone_6, &arena, out, &err);
}

static ks_measured read_from(const char *text)
{
    ks_measured out;
    if (parsed(text, &out))
        print_error("%s\n", err.text);
    assert_int_equal(err.count, 0);
    return out;
}

static bool remarks_on(const ks_measured *record, const char *words)
{
    for (int i = 0; i < record->n_remarks; i++)
        if (strstr(record->remarks[i], words))
            return true;
    for (int i = 0; i < record->n_remarks; i++)
        print_error("remark: %s\n", record->remarks[i]);
    return false;
}

static void refused(const char *text, const char *words)
{
    ks_measured out;
    assert_int_equal(parsed(text, &out), KS_BAD_INPUT);
    if (!strstr(err.text, words))
        fail_msg("%s", err.text);
}

/* 5 minutes apart, 18.5 degrees F in 5 minutes; a heading again, a row late, an open thermocouple,
 * a cell of dashes, and the decimal comma. */
static void a_logger_s_whole_mess_is_read(void **state)
{
    ks_measured got = read_from("Recorder 4;serial 00123\r\n"
                                "Exported;28.11.2026\r\n\r\n"
                                "Nr;Leistung kW;Zone 1 (\xB0"
                                "F);Uhrzeit;Datum;Soll (\xB0"
                                "F);Zone 2 (\xB0"
                                "F)\r\n"
                                "1;3,2;68,0;23:50:00;27.11.2026;70;68,0\r\n"
                                "2;3,2;86,5;23:55:00;27.11.2026;90;---\r\n"
                                "4;3,2;123,5;00:05:00;28.11.2026;110;9999,0\r\n"
                                "3;3,2;105,0;00:00:00;28.11.2026;110;105,0\r\n"
                                "Nr;Leistung kW;Zone 1 (\xB0"
                                "F);Uhrzeit;Datum;Soll (\xB0"
                                "F);Zone 2 (\xB0"
                                "F)\r\n"
                                "5;3,2;142,0;00:10:00;28.11.2026;130;142,0\r\n");
    assert_int_equal(got.n_curves, 2);
    assert_string_equal(got.curves[0].name, "Zone 1 (°F)");
    assert_int_equal(got.curves[0].n, 5);
    for (int i = 0; i < 5; i++) {
        check_near(got.curves[0].time_h[i], i * 5 / 60.0, 1e-9);
        check_near(got.curves[0].temp_c[i], (68 + 18.5 * i - 32) / 1.8, 1e-9);
    }
    assert_int_equal(got.curves[1].n, 3);
    check_near(got.mean.temp_c[1], (86.5 + (68 + 105) / 2.0 - 64) / 3.6, 1e-9);
    assert_true(remarks_on(&got, "1 reading stood out of order (line 8)"));
    assert_true(remarks_on(&got, "line 9 repeats the heading"));
    assert_true(remarks_on(&got, "\"Soll (°F)\" is what was asked for"));
    assert_true(remarks_on(&got, "9999"));
}

static void check_minutes(const char *text, const double *minutes, const double *temps, int n)
{
    ks_measured got = read_from(text);
    assert_int_equal(got.mean.n, n);
    for (int i = 0; i < n; i++) {
        check_near(got.mean.time_h[i] * 60, minutes[i], 1e-6);
        check_near(got.mean.temp_c[i], temps[i], 1e-6);
    }
}

/* The same four readings, every way. */
static void times_and_degrees_are_read_in_any_notation(void **state)
{
    static const double minutes[] = {0, 60, 150, 600}, temps[] = {20, 120, 270, 1220};
    static const char *const files[] = {
        "time (h),temp (C)\n0,20\n1.0,120\n2.5,270\n10,1220\n",
        "temp_c\ttime_min\n20\t0\n120\t60\n270\t150\n1220\t600\n",
        "Elapsed Sec;Kiln \xC2\xB0"
        "C\n0;20,0\n3600;120,0\n9000;270\n36000;1.220,0\n",
        "sep=;\ntime;TC1 degC\n0:00;20\n1:00;120\n2:30;270\n10:00;1220\n",
        "Time,Temperature\n6:30:00 PM,68 F\n7:30:00 PM,248 F\n9:00:00 PM,518 F\n4:30:00 AM,2228 "
        "F\n",
        "Timestamp,Probe "
        "(C)\n2026-11-27T18:30:00Z,20\n2026-11-27T19:30:00Z,120\n2026-11-27T21:00:00Z,270\n"
        "2026-11-28T04:30:00Z,1220\n",
        "Date/Time,PV\n11/12/2026 18:30,20 C\n11/12/2026 19:30,120 C\n11/12/2026 21:00,270 "
        "C\n12/12/2026 "
        "04:30,1220 C\n",
        "Date,Time,T1 "
        "(C)\n12/11/26,18:30,20\n12/11/26,19:30,120\n12/11/26,21:00,270\n12/12/26,4:30,1220\n",
        "time (ms),temp (K)\n0,293.15\n3600000,393.15\n9000000,543.15\n36000000,1493.15\n",
        "datetime,kiln c\n28-Nov-2026 08:00,20\n28-Nov-2026 09:00,120\n28-Nov-2026 "
        "10:30,270\n28-Nov-2026 18:00,1220\n",
        "time (mm:ss),kiln c\n00:00,20\n60:00,120\n150:00,270\n600:00,1220\n",
        "\"time (h)\",\"temp "
        "(C)\"\n\"0\",\"20\"\n\"1,0\",\"120\"\n\"2,5\",\"270\"\n\"10\",\"1,220.0\"\n",
        "when;kiln\n;\xC2\xB0"
        "C\n0:00;20\n1:00;120\n2:30;270\n10:00;1220\n",
    };
    for (size_t i = 0; i < sizeof files / sizeof *files; i++)
        check_minutes(files[i], minutes, temps, 4);
}

static void what_is_not_told_is_guessed_from_the_firing_and_said(void **state)
{
    ks_measured f = read_from("temp,elapsed\n68,0\n1100,300\n2230,600\n");
    check_near(f.mean.temp_c[2], (2230 - 32) / 1.8, 1e-9);
    check_near(f.mean.time_h[2], 10, 1e-9);
    assert_true(remarks_on(&f, "taken for minutes") && remarks_on(&f, "taken for °F"));
    ks_measured c = read_from("0,20\n18000,600\n36000,1220\n");
    check_near(c.mean.temp_c[2], 1220, 1e-9);
    check_near(c.mean.time_h[2], 10, 1e-9);
    assert_true(remarks_on(&c, "taken for seconds") && remarks_on(&c, "taken for °C"));
    assert_true(remarks_on(&c, "column 1 is taken for it") &&
                remarks_on(&c, "column 2 is taken for one"));
    ks_measured days = read_from("elapsed,temp c\n46354.25,20\n46354.5,700\n46354.75,1220\n");
    check_near(days.mean.time_h[2], 12, 1e-6);
}

static void a_file_that_is_no_record_says_what_it_lacks(void **state)
{
    refused("kW,temp C\n3,100\n4,200\n", "no column holds a time; found \"kW\", \"temp C\"");
    refused("time,kW\n1:00,3\n1:01,4\n",
            "no column holds readings of a kiln's temperature; found \"time\", \"kW\"");
    refused("time,temp\n", "no column holds readings of a kiln's temperature");
    refused("time (h),temp (C)\n1,100\n", "fewer than 2 readings");
    refused("", "no column holds a time");
    refused("time (min),temp C\n0,20\n10,30\n20,40\n30,50\n0,20\n10,30\n20,40\n30,50\n",
            "kiln.csv:6: its time goes back by 0.50 hours");
    refused("time,temp\n1:00,\"2", "never closed");
}

/* Of a gap nothing is known; between readings the curve is straight: 20 + (120 - 20) / 4 a quarter
 * of the way. */
static void between_readings_it_is_straight_and_a_gap_is_one(void **state)
{
    ks_measured got = read_from("min,temp c\n0,20\n2,120\n4,220\n6,320\n60,700\n62,720\n64,740\n");
    check_near(ks_measured_at(&got.mean, 0.5 / 60), 45, 1e-9);
    check_near(ks_measured_at(&got.mean, 5.0 / 60), 270, 1e-9);
    check_near(ks_measured_at(&got.mean, 6.0 / 60), 320, 1e-9);
    check_near(ks_measured_at(&got.mean, 63.0 / 60), 730, 1e-9);
    assert_true(isnan(ks_measured_at(&got.mean, 30.0 / 60)));
    assert_true(isnan(ks_measured_at(&got.mean, 1.1)) && isnan(ks_measured_at(&got.mean, -0.01)));
    assert_true(remarks_on(&got, "no reading from 0 h 06 to 1 h 00"));
}

enum { POINTS = 721 };

/* 100 K/h for 10 h, then as fast down. */
static ks_firing_result straight_firing(void)
{
    ks_firing_result fired = {.n_points = POINTS, .peak_kw = 6, .hours = 10, .top_c = 1020};
    fired.points = KS_TAKE(&arena, POINTS, ks_fire_point);
    for (int i = 0; i < POINTS; i++) {
        double h = i / 60.0;
        fired.points[i] =
            (ks_fire_point){.time_h = h,
                            .chamber_c = h < 10 ? 20 + 100 * h : 1020 - 100 * (h - 10),
                            .power_kw = h < 10 ? 6 : 0};
    }
    return fired;
}

/* Read for half an hour before it is switched on, then 80 K/h for 12.5 h: 20 K behind for each
 * hour, so after t hours 20 t, in the mean of 10 h 100, by the root of the mean square 200 /
 * sqrt(3) = 115.47; aside by more than 10 K from half an hour on. At the end of the simulated
 * heating 820 instead of 1020 C, which was there 2 h before. Both warm by 5 K from 20 C, after 3
 * min there and 3.75 min here: laid upon each other so, all is 0.0125 h or 1 K off. */
static void a_slower_kiln_is_told_by_how_much_and_when(void **state)
{
    ks_text text = {.arena = &arena};
    ks_text_add(&text, "time (min),temp (C)\n0,20\n");
    for (int m = 30; m <= 30 + 750; m += 5)
        ks_text_print(&text, "%d,%.3f\n", m, 20 + 80 * (m - 30) / 60.0);
    for (int m = 785; m <= 900; m += 5)
        ks_text_print(&text, "%d,%.3f\n", m, 1020 - 60 * (m - 780) / 60.0);
    ks_measured record = read_from(ks_text_end(&text));
    ks_firing_result fired = straight_firing();
    ks_comparison got;
    assert_int_equal(ks_measured_compare(&record, &fired, &arena, &got, &err), KS_OK);
    check_near(got.begins_h, 0.05 - (0.5 + 0.0625), 1e-5);
    check_near(got.to_h, 10.04, 0.02); /* within 5 K of the peak */
    check_near(got.mean_k, -100, 1.1);
    check_near(got.rms_k, 115.47, 1.5);
    assert_int_equal(got.n_stretches, 1);
    check_near(got.stretches[0].from_h, 0.5, 0.1);
    check_near(got.stretches[0].at_h, 10, 1e-9);
    check_near(got.stretches[0].measured_c, 820, 1.1);
    check_near(got.stretches[0].late_h, 2, 0.02);
    check_near(got.stretches[0].simulated_part, 0, 1e-9); /* just switched off */
    check_near(got.mean.peak_c, 1020, 1e-9);
    check_near(got.mean.peak_h, 12.5, 0.013);
    check_near(got.simulated.peak_h, 10, 1e-9);
    assert_false(got.still_heating);
}

static void a_record_that_begins_hot_is_laid_where_the_chamber_is_as_hot(void **state)
{
    ks_measured record = read_from("h,temp c\n0,320\n1,420\n2,520\n3,620\n");
    ks_firing_result fired = straight_firing();
    ks_comparison got;
    assert_int_equal(ks_measured_compare(&record, &fired, &arena, &got, &err), KS_OK);
    check_near(got.begins_h, 3, 1e-9);
    check_near(got.mean_k, 0, 1e-9);
    assert_int_equal(got.n_stretches, 0);
    assert_true(got.still_heating);
}

/* A steady rise to the chart's own temperature bends the chart's cone: the row of self-supporting
 * cones at 60 K/h, however seldom it is read. */
static void a_measured_rise_bends_the_chart_s_cone(void **state)
{
    static const char *const names[] = {"06", "1", "6", "10"};
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        int place = ks_cone_find(names[i]);
        double top_c = ks_cone(place)->temp_c[1], time_h[400], temp_c[400];
        for (int apart = 1; apart <= 15; apart += 14) {
            int n = 0;
            for (int m = 0; m <= 300; m += apart, n++) {
                time_h[n] = m / 60.0;
                temp_c[n] = top_c + 1e-3 - (300 - m);
            }
            check_near(ks_cone_of_curve(n, time_h, temp_c), place, 0.05);
        }
    }
    assert_true(ks_cone_of_curve(1, (double[]){0}, (double[]){900}) < 0);
}

static int done(void **state)
{
    ks_arena_finish(&arena);
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_logger_s_whole_mess_is_read),
        cmocka_unit_test(times_and_degrees_are_read_in_any_notation),
        cmocka_unit_test(what_is_not_told_is_guessed_from_the_firing_and_said),
        cmocka_unit_test(a_file_that_is_no_record_says_what_it_lacks),
        cmocka_unit_test(between_readings_it_is_straight_and_a_gap_is_one),
        cmocka_unit_test(a_slower_kiln_is_told_by_how_much_and_when),
        cmocka_unit_test(a_record_that_begins_hot_is_laid_where_the_chamber_is_as_hot),
        cmocka_unit_test(a_measured_rise_bends_the_chart_s_cone),
    };
    return cmocka_run_group_tests(tests, NULL, done);
}
