package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.List;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.SunWindow;

/**
 * What a technician's device keeps to work through the day without a network.
 *
 * @param lots that may be used today
 * @param methods that a job may begin with
 */
public record DayKit(
        LocalDate day, List<JobKit> jobs, List<LotView> lots, List<LampView> lamps, List<MethodView> methods) {
    public DayKit {
        jobs = List.copyOf(jobs);
        lots = List.copyOf(lots);
        lamps = List.copyOf(lamps);
        methods = List.copyOf(methods);
    }

    /**
     * One job with all that its page needs.
     *
     * @param method that it follows; before it begins the one that ships
     * @param drawing of its glass, an SVG
     * @param sun for each eighth of the circle that the vehicle's front may point to, from north over east
     * @param daylight while the sun is up there today
     */
    public record JobKit(
            JobView job,
            Method method,
            String drawing,
            List<String> cautions,
            List<ClosingGap> missing,
            List<LotUse> used,
            List<SunOnGlass> sun,
            List<SunWindow> daylight) {
        public JobKit {
            cautions = List.copyOf(cautions);
            missing = List.copyOf(missing);
            used = List.copyOf(used);
            sun = List.copyOf(sun);
            daylight = List.copyOf(daylight);
        }
    }

    /** When direct sun falls on the glass today, if the vehicle's front points there. */
    public record SunOnGlass(int bearingDegrees, List<SunWindow> windows) {
        public SunOnGlass {
            windows = List.copyOf(windows);
        }
    }
}
