/* Films: natural convection and radiation against worked examples. */
#include "check.h"

#include "fire/physics/film.h"

/* Incropera & DeWitt, example 9.2, printed answers from memory: Ra 1.813e9, Nu 147, h 7.0, 1060 W.
 */
static void an_upright_panel_loses_what_incropera_says(void **state)
{
    ks_gas_properties air = {0.0338, 26.4e-6, 38.3e-6, 0.69};
    double film_k = 0.5 * (232 + 23) + 273, difference_k = 232 - 23;
    double rayleigh = ks_rayleigh(&air, film_k, difference_k, 0.71);
    check_near(rayleigh, 1.8125e9, 0.01e9);
    double h = ks_nusselt_upright(rayleigh, air.prandtl) * air.conductivity / 0.71;
    check_near(h, 7.00, 0.03);
    check_near(h * 0.71 * 1.02 * difference_k, 1060, 5);
    double radiated = STEFAN_BOLTZMANN * (pow(505, 4) - pow(296, 4)) * 0.71 * 1.02;
    check_near(radiated, 2356, 3);
}

/* Cengel, example 9-2, printed answers from memory: 115, 128, 64.2 and 182 W. */
static void a_plate_loses_what_cengel_says_in_each_position(void **state)
{
    ks_gas_properties air = {0.02808, 1.896e-5, 1.896e-5 / 0.7202, 0.7202};
    double upright = ks_rayleigh(&air, 333, 60, 0.6), flat = ks_rayleigh(&air, 333, 60, 0.15);
    double scale = air.conductivity * 0.36 * 60;
    check_near(ks_nusselt_upright(upright, air.prandtl) * scale / 0.6, 114.6, 0.6);
    check_near(ks_nusselt_facing_up(flat) * scale / 0.15, 128.4, 0.6);
    check_near(ks_nusselt_facing_down(flat) * scale / 0.15, 64.2, 0.4);
    check_near(STEFAN_BOLTZMANN * (pow(363, 4) - pow(303, 4)) * 0.36, 182.4, 0.3);
}

/* McAdams' laws for air, from memory: 1.42 (dT/L)^0.25, 1.31 dT^(1/3) upright; 1.52 dT^(1/3) up;
 * 0.59 (dT/L)^0.25 down. Rules of thumb, so within 15 %. */
static void films_in_air_agree_with_mcadams_laws(void **state)
{
    const double room_c = 20, hot_c = 80, length_m = 0.6;
    ks_film upright = {KS_UPRIGHT_FILM, length_m, 0, room_c};
    ks_film up = {KS_UP_FILM, length_m, 0, room_c};
    ks_film down = {KS_DOWN_FILM, length_m, 0, room_c};
    check_near(ks_film_convection(&upright, hot_c) / 60, 5.13,
               0.10 * 5.13); /* Ra 1.1e9: turbulent */
    check_near(ks_film_convection(&up, hot_c) / 60, 5.95, 0.12 * 5.95);
    check_near(ks_film_convection(&down, hot_c) / 60, 1.87, 0.25 * 1.87);
}

/* Churchill & Chu with tabulated air, 0.7 m high, room at 20 C, emissivity 0.3, 0.6, 0.9: worked
 * out from the published formula with table values of air. */
static void a_casing_loses_what_the_formula_says(void **state)
{
    const double rows[][4] = {{60, 278, 362, 446},     {80, 464, 603, 742},
                              {100, 670, 874, 1078},   {150, 1263, 1682, 2102},
                              {200, 1968, 2695, 3422}, {250, 2797, 3945, 5094}};
    for (int i = 0; i < 6; i++)
        for (int e = 0; e < 3; e++) {
            ks_film film = {KS_UPRIGHT_FILM, 0.7, 0.3 + 0.3 * e, 20};
            check_near(ks_film_loss(&film, rows[i][0]), rows[i][e + 1], 0.01 * rows[i][e + 1]);
        }
}

static void a_surface_at_room_temperature_loses_nothing(void **state)
{
    for (int kind = KS_UPRIGHT_FILM; kind <= KS_DOWN_FILM; kind++) {
        ks_film film = {(ks_film_kind)kind, 0.5, 0.9, 20};
        check_near(ks_film_loss(&film, 20), 0, 1e-9);
        assert_true(ks_film_loss(&film, 10) < 0);
    }
}

/* Incropera & DeWitt, table A.4, from memory. */
static void air_has_its_tabulated_properties(void **state)
{
    const double rows[][4] = {{300, 26.3, 15.89, 1007},
                              {350, 30.0, 20.92, 1009},
                              {400, 33.8, 26.41, 1014},
                              {500, 40.7, 38.79, 1030}};
    for (int i = 0; i < 4; i++) {
        ks_gas_properties air = ks_air_at(rows[i][0] - 273.15);
        check_near(1000 * air.conductivity, rows[i][1], 0.015 * rows[i][1]);
        check_near(1e6 * air.viscosity, rows[i][2], 0.015 * rows[i][2]);
        check_near(ks_air_heat(rows[i][0] - 273.15), rows[i][3], 3);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_upright_panel_loses_what_incropera_says),
        cmocka_unit_test(a_plate_loses_what_cengel_says_in_each_position),
        cmocka_unit_test(films_in_air_agree_with_mcadams_laws),
        cmocka_unit_test(a_casing_loses_what_the_formula_says),
        cmocka_unit_test(a_surface_at_room_temperature_loses_nothing),
        cmocka_unit_test(air_has_its_tabulated_properties),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
