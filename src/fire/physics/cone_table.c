#include "kilnstow/cone.h"

#include <ctype.h>
#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#define NONE NAN
#define CHART "published cone chart, self-supporting and large cones"
#define CHART_2016 "published cone chart of 2016, from memory"
#define CHART_F "published cone chart of 2016; in F as a potters' forum has it, in C from memory"

/* Energies: chosen so that K per e-fold of rate runs smooth from cone to cone (squares of the
 * misfit to the chart's columns, each row's middle column exact, plus twice the squares of second
 * differences); the least smoothing with which no two cones change places between 2 and 600 K/h. */
static const ks_cone_row rows[] = {
    {"022", {NONE, 586, 590}, {NONE, NONE}, 630, 776, CHART},
    {"021", {NONE, 600, 617}, {NONE, NONE}, 643, 513, CHART},
    {"020", {NONE, 626, 638}, {NONE, NONE}, 666, 438, CHART},
    {"019", {656, 678, 695}, {676, 693}, 723, 413, CHART},
    {"018", {686, 715, 734}, {712, 732}, 752, 375, CHART},
    {"017", {705, 738, 763}, {736, 761}, 784, 341, CHART},
    {"016", {742, 772, 796}, {769, 794}, 825, 329, CHART},
    {"015", {750, 791, 818}, {788, 816}, 843, 303, CHART},
    {"014", {757, 807, 838}, {807, 836}, 870, 308, CHART},
    {"013", {807, 837, 861}, {837, 859}, 880, 400, CHART},
    {"012", {843, 861, 882}, {858, 880}, 900, 562, CHART},
    {"011", {857, 875, 894}, {873, 892}, 915, 751, CHART},
    {"010", {891, 903, 915}, {NONE, NONE}, 919, 986, CHART},
    {"09", {907, 920, 930}, {NONE, NONE}, 955, 1052, CHART},
    {"08", {922, 942, 956}, {NONE, NONE}, 983, 998, CHART},
    {"07", {962, 976, 987}, {NONE, NONE}, NONE, 1073, CHART_2016},
    {"06", {981, 998, 1013}, {NONE, NONE}, 1023, 1151, CHART_2016},
    {"05.5", {1004, 1015, 1025}, {NONE, NONE}, NONE, 1326, CHART_2016},
    {"05", {1021, 1031, 1044}, {NONE, NONE}, NONE, 1336, CHART_2016},
    {"04", {1046, 1063, 1077}, {NONE, NONE}, 1098, 1188, CHART_2016},
    {"03", {1071, 1086, 1104}, {NONE, NONE}, NONE, 1031, CHART_2016},
    {"02", {1078, 1102, 1122}, {NONE, NONE}, NONE, 881, CHART_2016},
    {"01", {1093, 1119, 1138}, {NONE, NONE}, NONE, 811, CHART_2016},
    {"1", {1109, 1137, 1154}, {NONE, NONE}, NONE, 777, CHART_2016},
    {"2", {1112, 1142, 1164}, {NONE, NONE}, NONE, 739, CHART_2016},
    {"3", {1115, 1152, 1170}, {NONE, NONE}, NONE, 748, CHART_2016},
    {"4", {1141, 1162, 1183}, {NONE, NONE}, NONE, 807, CHART_2016},
    {"5", {1159, 1186, 1207}, {NONE, NONE}, NONE, 798, CHART_2016},
    {"5.5", {1167, 1203, 1225}, {NONE, NONE}, NONE, 736, CHART_2016},
    {"6", {1185, 1222, 1243}, {NONE, NONE}, 1255, 712, CHART_F},
    {"7", {1201, 1239, 1257}, {NONE, NONE}, NONE, 712, CHART_2016},
    {"8", {1211, 1249, 1271}, {NONE, NONE}, NONE, 721, CHART_2016},
    {"9", {1224, 1260, 1280}, {NONE, NONE}, NONE, 766, CHART_2016},
    {"10", {1251, 1285, 1305}, {NONE, NONE}, 1330, 869, CHART_2016},
    {"11", {1272, 1294, 1315}, {NONE, NONE}, NONE, 1019, CHART_2016},
    {"12", {1285, 1306, 1326}, {NONE, NONE}, NONE, 1169, CHART_2016},
    {"13", {1310, 1331, 1348}, {NONE, NONE}, NONE, 1350, CHART_2016},
    {"14", {1351, 1365, 1384}, {NONE, NONE}, NONE, 1625, CHART_2016},
};
enum { N_ROWS = sizeof rows / sizeof *rows };
static const double rates_c_h[] = {15, 60, 150};

int ks_cone_count(void)
{
    return N_ROWS;
}

const ks_cone_row *ks_cone(int place)
{
    return &rows[place];
}

/* A cone's number on a line: "06" -> -6, "6" -> 6; NAN when it is no cone's number. */
static double number_of(const char *name)
{
    if (strncmp(name, "cone", 4) == 0)
        name += 4;
    while (*name == ' ')
        name++;
    bool low = *name == '0';
    double number = 0;
    if (!isdigit((unsigned char)*name))
        return NAN;
    while (isdigit((unsigned char)*name))
        number = 10 * number + (*name++ - '0');
    if (strcmp(name, ".5") == 0 || strcmp(name, " 1/2") == 0 || strcmp(name, "½") == 0)
        number += 0.5;
    else if (*name)
        return NAN;
    return low ? -number : number;
}

int ks_cone_find(const char *name)
{
    double number = number_of(name);
    for (int i = 0; i < N_ROWS; i++)
        if (number_of(rows[i].name) == number)
            return i;
    return -1;
}

/* From the second of two neighbouring columns towards the first or beyond it. */
static double along(const double temp_c[3], int low, int high, double rate_c_h)
{
    double share = log(rate_c_h / rates_c_h[low]) / log(rates_c_h[high] / rates_c_h[low]);
    return temp_c[low] + share * (temp_c[high] - temp_c[low]);
}

static double row_temp_c(const ks_cone_row *row, double rate_c_h)
{
    bool two = isnan(row->temp_c[0]); /* the chart has no slow figure: 60 K/h holds below it */
    double rate = fmin(fmax(rate_c_h, two ? 60 : 2), 600);
    bool upper = two || rate > rates_c_h[1];
    return upper ? along(row->temp_c, 1, 2, rate) : along(row->temp_c, 0, 1, rate);
}

double ks_cone_temp_c(const char *cone, double rate_c_h)
{
    int place = ks_cone_find(cone);
    return place < 0 ? NAN : row_temp_c(&rows[place], rate_c_h);
}

double ks_cone_at(double peak_c, double rate_c_h)
{
    if (!(peak_c >= row_temp_c(&rows[0], rate_c_h)))
        return -1;
    for (int i = 1; i < N_ROWS; i++) {
        double below = row_temp_c(&rows[i - 1], rate_c_h), here = row_temp_c(&rows[i], rate_c_h);
        if (peak_c < here)
            return i - 1 + (peak_c - below) / (here - below);
    }
    return N_ROWS - 1;
}
