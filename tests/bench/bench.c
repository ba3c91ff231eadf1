/* How long things take, on this machine, now: ratios are what travels. Not a test: it passes nothing and
 * fails nothing. Usage: bench PROGRAM KILN.yaml [CEA-SCRIPT] */
#define _POSIX_C_SOURCE 200809L

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "check.h"
#include "damperwise.h"
#include "kit.h"
#include "unmixedness.h"

static double now_s(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double cpu_s(void)
{
    struct timespec t;
    (void)clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double children_cpu_s(void)
{
    struct rusage usage;
    (void)getrusage(RUSAGE_CHILDREN, &usage);
    return (double)(usage.ru_utime.tv_sec + usage.ru_stime.tv_sec) +
           1e-6 * (double)(usage.ru_utime.tv_usec + usage.ru_stime.tv_usec);
}

static void row(const char *what, double seconds, double limit_s)
{
    printf("%-46s %12.3f us   limit %10.0f us   %5.1f %% of it\n", what, 1e6 * seconds,
           1e6 * limit_s, 100.0 * seconds / limit_s);
}

static double equilibrium_s(void)
{
    const dw_gas_set *set = &kit_model()->gases;
    const dw_species_table *table = &kit_data()->species;
    double fuel[DW_SPECIES_MAX] = {0.0}, air[DW_SPECIES_MAX] = {0.0};
    fuel[dw_species_find(table, "CH4")] = 1.0;
    air[dw_species_find(table, "N2")] = 0.78084;
    air[dw_species_find(table, "O2")] = 0.209476;
    air[dw_species_find(table, "Ar")] = 0.009365;
    air[dw_species_find(table, "CO2")] = 0.000319;
    const dw_elements f = dw_elements_from_moles(table, fuel), a = dw_elements_from_moles(table, air);
    enum { STATES = 40000 };
    double best = 1e9;
    for (int round = 0; round < 5; round++) {
        const double start = cpu_s();
        for (int i = 0; i < STATES; i++) {
            dw_gas_potentials at;
            dw_equilibrium state = {.start = DW_START_COLD};
            const double phi = 0.3 + 2.7 * (i % 997) / 997.0, t = 900.0 + 1100.0 * (i % 89) / 89.0;
            const dw_elements mix =
                dw_elements_combine(1.0, f, -f.excess_o / a.excess_o / phi, a);
            if (dw_gas_potentials_at(set, t, &at) != DW_OK ||
                dw_equilibrium_solve(set, &at, &mix, 101325.0, false, &state) != DW_OK) {
                printf("equilibrium failed at phi %g, %g K\n", phi, t);
                exit(1);
            }
        }
        best = fmin(best, (cpu_s() - start) / STATES);
    }
    return best;
}

static double operating_point_s(const dw_kiln *kiln, double spread)
{
    enum { POINTS = 400 };
    dw_kiln work = *kiln;
    work.settings.unmixedness = spread;
    double best = 1e9;
    for (int round = 0; round < 5; round++) {
        const double start = cpu_s();
        for (int i = 0; i < POINTS; i++) {
            dw_result result;
            for (int k = 0; k < work.flue_count; k++) {
                work.flue[k].damper.open_frac = 0.05 + 0.9 * i / POINTS;
            }
            if (dw_operating_point(kit_model(), &work, &result) != DW_OK) {
                printf("not solved: %s\n", result.reason);
                exit(1);
            }
        }
        best = fmin(best, (cpu_s() - start) / POINTS);
    }
    return best;
}

static double process_s(const char *program, char *const arguments[])
{
    double best = 1e9;
    for (int i = 0; i < 20; i++) {
        (void)fflush(stdout);
        const double start = now_s();
        const pid_t child = fork();
        if (child == 0) {
            if (freopen("/dev/null", "w", stdout) != NULL) (void)execv(program, arguments);
            _exit(127);
        }
        int status = 0;
        (void)waitpid(child, &status, 0);
        if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) {
            printf("%s failed\n", program);
            exit(1);
        }
        best = fmin(best, now_s() - start);
    }
    return best;
}

static double sweep_s(const char *program, const char *kiln)
{
    char vary_damper[] = "damper=0..100%:1%", vary_gas[] = "gas_pressure=2 kPa..22 kPa:0.2 kPa";
    char *arguments[] = {(char *)program, "sweep", (char *)kiln, "--vary", vary_damper,
                         "--vary", vary_gas, "--format", "csv", NULL};
    (void)fflush(stdout);
    const double start = children_cpu_s();
    const pid_t child = fork();
    if (child == 0) {
        if (freopen("/dev/null", "w", stdout) != NULL &&
            freopen("/dev/null", "w", stderr) != NULL) {
            (void)execv(program, arguments);
        }
        _exit(127);
    }
    int status = 0;
    (void)waitpid(child, &status, 0);
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0) {
        printf("sweep failed\n");
        exit(1);
    }
    return children_cpu_s() - start;
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        printf("usage: bench PROGRAM KILN.yaml [CEA-SCRIPT]\n");
        return 2;
    }
    const char *program = argv[1], *kiln = argv[2];
    dw_kiln_file file;
    kit_example("juniper-flat", &file);

    const double equilibrium = equilibrium_s();
    row("one equilibrium, temperature included (cpu)", equilibrium, 5e-6);
    row("operating point, s = 0.05 (cpu)", operating_point_s(&file.kiln, 0.05), 200e-6);
    row("operating point, s = 0 (cpu)", operating_point_s(&file.kiln, 0.0), 200e-6);
    char *estimate[] = {(char *)program, "estimate", (char *)kiln, NULL};
    row("`estimate` as a process (wall)", process_s(program, estimate), 15e-3);
    row("`sweep` 101 x 101 as a process (cpu)", sweep_s(program, kiln), 3.0);

    if (argc > 3) {
        char command[1024];
        (void)snprintf(command, sizeof command, "/usr/bin/python3 '%s'", argv[3]);
        FILE *cea = popen(command, "r");
        double cea_s = NAN;
        const int got = cea != NULL ? fscanf(cea, "%lf", &cea_s) : 0;
        if (cea != NULL) (void)pclose(cea);
        if (got == 1) {
            printf("%-46s %12.3f us   %.0f times one equilibrium here\n",
                   "one equilibrium by NASA CEA (wall)", 1e6 * cea_s, cea_s / equilibrium);
        } else {
            printf("NASA CEA could not be run: apt-get install rocketcea\n");
        }
    }
    return 0;
}
