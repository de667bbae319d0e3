package org.quarterlight.repair;

import java.time.LocalDate;
import java.util.List;
import org.quarterlight.bench.Method;
import org.quarterlight.bench.PhaseKind;
import org.quarterlight.bench.SunWindow;

/**
 * What a technician's device keeps to work through the day without a network.
 *
 * @param lots that may be used today
 * @param lotKinds into which work and at which phase each kind of lot goes
 * @param places that lots are taken from, where stock is kept
 * @param methods that a job may begin with
 */
public record DayKit(
        LocalDate day,
        List<JobKit> jobs,
        List<LotView> lots,
        List<LotNeed> lotKinds,
        List<StockPlace> places,
        List<LampView> lamps,
        List<MethodView> methods) {
    public DayKit {
        jobs = List.copyOf(jobs);
        lots = List.copyOf(lots);
        lotKinds = List.copyOf(lotKinds);
        places = List.copyOf(places);
        lamps = List.copyOf(lamps);
        methods = List.copyOf(methods);
    }

    /**
     * One job with all that its page needs.
     *
     * @param method that it follows; before it begins the one that ships
     * @param drawing of its glass, an SVG
     * @param sun for each eighth of the circle that the vehicle's front may point to, from north over east
     * @param daylight while the sun is up there
     * @param sunKnown for which days both were worked out: today and some after it, for work may go on past midnight
     */
    public record JobKit(
            JobView job,
            Method method,
            String drawing,
            List<String> cautions,
            List<ClosingGap> missing,
            List<LotUse> used,
            List<SunOnGlass> sun,
            List<SunWindow> daylight,
            SunWindow sunKnown) {
        public JobKit {
            cautions = List.copyOf(cautions);
            missing = List.copyOf(missing);
            used = List.copyOf(used);
            sun = List.copyOf(sun);
            daylight = List.copyOf(daylight);
        }
    }

    /** Where a kind of lot goes. */
    public record LotNeed(LotKind kind, List<Work> works, List<PhaseKind> phases) {
        public LotNeed {
            works = List.copyOf(works);
            phases = List.copyOf(phases);
        }
    }

    /** When direct sun falls on the glass in these days, if the vehicle's front points there. */
    public record SunOnGlass(int bearingDegrees, List<SunWindow> windows) {
        public SunOnGlass {
            windows = List.copyOf(windows);
        }
    }
}
