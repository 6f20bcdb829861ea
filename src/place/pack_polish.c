#include "place/pack_relax.h"

#include <math.h>
#include <string.h>

/* The last of a descent: all shortfalls as straight functions of the values, the least move that
 * makes good for them, damped (Levenberg 1944; Marquardt 1963), with a dense Cholesky
 * factorisation. Doubles the right digits at each step where a layout without overlap is near. */

enum { MOST_VALUES = 400, MOST_STEPS = 12, ROW = 7 };

/* One shortfall and where it depends on the values. */
typedef struct {
    int n, at[ROW];
    double by[ROW], short_mm;
} row;

static void entry_added(row *to, int at, double by)
{
    to->at[to->n] = at;
    to->by[to->n++] = by;
}

static void body_added(const ks_relax *relax, row *to, int body, ks_pull of)
{
    const ks_kind *kind = &relax->pile->kit->kinds[relax->pile->kind[body]];
    entry_added(to, relax->at[body], of.x);
    entry_added(to, relax->at[body] + 1, of.y);
    if (kind->n_turns == 0)
        entry_added(to, relax->at[body] + 2, of.turn / ks_relax_arm(kind));
}

static row row_of(const ks_relax *relax, const ks_contact *contact)
{
    row out = {.short_mm = contact->short_mm};
    body_added(relax, &out, contact->i, contact->of_i);
    if (contact->j >= 0)
        body_added(relax, &out, contact->j, contact->of_j);
    if (relax->turns_posts && contact->of_posts != 0)
        entry_added(&out, relax->n_values - 1, contact->of_posts / ks_relax_post_arm(relax->pile));
    return out;
}

/* The normal equations of all shortfalls: lower half of the matrix, and the right side. */
static void equations(const ks_relax *relax, double *matrix, double *right)
{
    int n = relax->n_values;
    memset(matrix, 0, (size_t)(n * n) * sizeof *matrix);
    memset(right, 0, (size_t)n * sizeof *right);
    for (int c = 0; c < relax->strain.n_contacts; c++) {
        row one = row_of(relax, &relax->contacts[c]);
        for (int a = 0; a < one.n; a++) {
            right[one.at[a]] -= one.by[a] * one.short_mm;
            for (int b = 0; b < one.n; b++)
                if (one.at[b] <= one.at[a])
                    matrix[one.at[a] * n + one.at[b]] += one.by[a] * one.by[b];
        }
    }
}

/* Solves (matrix + damping) x = right in place; only the lower half is read and written. */
static void solved(double *matrix, double *x, int n, double damping)
{
    for (int i = 0; i < n; i++) {
        double *of_i = matrix + i * n;
        of_i[i] += damping;
        for (int j = 0; j < i; j++) {
            const double *of_j = matrix + j * n;
            double sum = of_i[j];
            for (int k = 0; k < j; k++)
                sum -= of_i[k] * of_j[k];
            of_i[j] = sum / of_j[j];
        }
        for (int k = 0; k < i; k++)
            of_i[i] -= of_i[k] * of_i[k];
        of_i[i] = sqrt(fmax(of_i[i], 1e-3 * damping));
    }
    for (int i = 0; i < n; i++) {
        for (int k = 0; k < i; k++)
            x[i] -= matrix[i * n + k] * x[k];
        x[i] /= matrix[i * n + i];
    }
    for (int i = n - 1; i >= 0; i--) {
        for (int k = i + 1; k < n; k++)
            x[i] -= matrix[k * n + i] * x[k];
        x[i] /= matrix[i * n + i];
    }
}

static double strain_listed(ks_relax *relax)
{
    relax->strain.contacts = relax->contacts;
    relax->strain.contact_room = relax->contact_room;
    relax->strain.n_contacts = 0;
    double strain = ks_strain_all(&relax->strain);
    relax->strain.contacts = NULL;
    return strain;
}

bool ks_relax_polish(ks_relax *relax)
{
    int n = relax->n_values;
    if (n > MOST_VALUES || n == 0)
        return false;
    ks_arena arena = {0};
    double *matrix = KS_TAKE(&arena, n * n, double), *move = KS_TAKE(&arena, n, double);
    double damping = 1e-6;
    size_t bytes = (size_t)n * sizeof(double);
    ks_strain_list(&relax->strain, 4 * relax->strain.worst_mm);
    relax->strain_mm2 = strain_listed(relax);
    bool done = false;
    for (int step = 0; step < MOST_STEPS && !done; step++) {
        double before = relax->strain_mm2;
        equations(relax, matrix, move);
        solved(matrix, move, n, damping);
        *relax->strain.work += n * n * n / 120;
        memcpy(relax->old_value, relax->value, bytes);
        for (int i = 0; i < n; i++)
            relax->value[i] += fmax(fmin(move[i], relax->stride_mm), -relax->stride_mm);
        ks_relax_show(relax);
        relax->strain_mm2 = strain_listed(relax);
        done = relax->strain.worst_mm <= relax->strain.aim_mm + KS_RELAX_DONE_MM;
        if (relax->strain_mm2 > before) {
            memcpy(relax->value, relax->old_value, bytes);
            ks_relax_show(relax);
            relax->strain_mm2 = strain_listed(relax);
            damping *= 100;
        } else if (!done && relax->strain_mm2 > 0.7 * before) {
            break;
        }
        if (damping > 1)
            break;
    }
    ks_arena_finish(&arena);
    return done;
}
