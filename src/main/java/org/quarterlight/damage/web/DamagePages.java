package org.quarterlight.damage.web;

import jakarta.validation.Valid;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamageFilter;
import org.quarterlight.damage.DamageGrowth;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.DamageRow;
import org.quarterlight.damage.DamageState;
import org.quarterlight.damage.DamageView;
import org.quarterlight.damage.GlassPicture;
import org.quarterlight.damage.PermittedMap;
import org.quarterlight.eligibility.Outcome;
import org.quarterlight.eligibility.Question;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.SmallGlasses;
import org.quarterlight.glass.DamageKind;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.Flag;
import org.quarterlight.web.Notice;
import org.quarterlight.web.SliceRequest;
import org.quarterlight.web.Today;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.multipart.MultipartFile;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

@Controller
class DamagePages {
    private final DamageReporting reporting;
    private final DamagePhotos photos;
    private final DamageForms forms;
    private final GlassPicture picture;
    private final DamageGrowth growth;
    private final Fleet fleet;
    private final Depots depots;
    private final SmallGlasses glasses;
    private final Today today;

    DamagePages(
            DamageReporting reporting,
            DamagePhotos photos,
            DamageForms forms,
            GlassPicture picture,
            DamageGrowth growth,
            Fleet fleet,
            Depots depots,
            SmallGlasses glasses,
            Today today) {
        this.reporting = reporting;
        this.photos = photos;
        this.forms = forms;
        this.picture = picture;
        this.growth = growth;
        this.fleet = fleet;
        this.depots = depots;
        this.glasses = glasses;
        this.today = today;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    /** What a vehicle's page shows of its damages. */
    @GetMapping(path = "/damages", headers = "HX-Request", params = "vehicle")
    String ofVehicle(@RequestParam UUID vehicle, Model model) {
        model.addAttribute("damages", reporting.list(DamageFilter.ofVehicle(vehicle), new SliceRequest(50, null)));
        model.addAttribute("vehicle", fleet.vehicle(vehicle));
        var acting = Acting.require();
        model.addAttribute("all", acting.isAny(Role.MANAGER, Role.DISPATCHER, Role.TECHNICIAN));
        model.addAttribute("picture", picture.ofVehicle(vehicle, GlassDrawing.Size.M, false));
        return "damage/of-vehicle :: section";
    }

    /** What the page of rules shows of a judging that is under way; asks for itself again until it is over. */
    @GetMapping(path = "/damages/judging", headers = "HX-Request")
    String judging(Model model) {
        model.addAttribute("left", reporting.leftToJudge());
        return "damage/judging :: judging";
    }

    @GetMapping("/damages")
    String list(
            @RequestParam(required = false) @Nullable DamageState state,
            @RequestParam(required = false) @Nullable Outcome outcome,
            @RequestParam(required = false) DamageFilter.@Nullable Needs needs,
            @RequestParam(required = false) @Nullable UUID depot,
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable DamageKind kind,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate dueBy,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate from,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate to,
            @RequestParam(required = false) @Nullable Flag mine,
            @RequestParam(required = false) DamageFilter.@Nullable Sort sort,
            SliceRequest wanted,
            Model model) {
        var order = sort != null ? sort : needs != null ? DamageFilter.Sort.WORST_FIRST : DamageFilter.Sort.NEWEST;
        var filter = new DamageFilter(
                state,
                outcome,
                needs,
                depot,
                vehicle,
                kind,
                today.begins(from),
                today.begins(to == null ? null : to.plusDays(1)),
                dueBy,
                Flag.on(mine),
                order);
        model.addAttribute("filter", filter);
        var damages = reporting.list(filter, wanted);
        model.addAttribute("damages", damages);
        model.addAttribute("from", from);
        model.addAttribute("to", to);
        model.addAttribute(
                "glasses",
                glasses.of(damages.items().stream()
                        .filter(damage -> damage.closedAs() == null)
                        .map(DamageRow::vehicle)
                        .distinct()
                        .toList()));
        model.addAttribute("counted", reporting.count(filter));
        model.addAttribute("depots", depots.all());
        return "damage/list";
    }

    @GetMapping("/damages/{id}")
    String damage(@PathVariable UUID id, Model model) {
        var damage = reporting.damage(id);
        var vehicle = fleet.vehicle(damage.vehicle());
        model.addAttribute("damage", damage);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("depot", depots.depot(vehicle.depot()));
        var drawn = picture.ofDamage(damage, GlassDrawing.Size.L);
        model.addAttribute("picture", drawn);
        if (drawn.permitted() != null) {
            model.addAttribute("share", PermittedMap.share(drawn.permitted().shareOfWipedArea()));
            model.addAttribute(
                    "patternId", damage.verdict().judgedFrom().pattern().id());
        }
        model.addAttribute("repairable", findings(damage, Question.REPAIRABLE));
        model.addAttribute("roadworthy", findings(damage, Question.ROADWORTHY));
        model.addAttribute("asRepaired", findings(damage, Question.AS_REPAIRED));
        model.addAttribute("acceptable", findings(damage, Question.ACCEPTABLE));
        var observations = reporting.observations(id);
        model.addAttribute("observations", observations);
        model.addAttribute(
                "overTime", observations.size() < 2 ? "" : picture.overTime(damage, observations.reversed()));
        var grown = growth.of(id);
        model.addAttribute("growth", grown);
        model.addAttribute(
                "growthChart",
                GrowthChart.of(grown, depots.depot(vehicle.depot()).zone()));
        model.addAttribute("photos", photos.list(id));
        model.addAttribute(
                "others",
                reporting.onGlass(damage.windscreen()).stream()
                        .filter(each -> !each.id().equals(id))
                        .toList());
        model.addAttribute("forDriver", reporting.forDriver(id));
        return "damage/show";
    }

    /** How it was judged over time, and whether the same comes out today. */
    @GetMapping("/damages/{id}/verdicts")
    String verdicts(@PathVariable UUID id, Model model) {
        var damage = reporting.damage(id);
        model.addAttribute("damage", damage);
        model.addAttribute("depot", depots.depot(fleet.vehicle(damage.vehicle()).depot()));
        model.addAttribute("verdicts", reporting.verdictsAgain(id));
        return "damage/verdicts";
    }

    /** The history of a glass: every damage of it and every look at each. */
    @GetMapping("/vehicles/{id}/damages-over-time")
    String overTime(@PathVariable UUID id, Model model) {
        var all = reporting.overTime(id);
        var vehicle = fleet.vehicle(id);
        var drawing = picture.overTime(id, all);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("depot", depots.depot(vehicle.depot()));
        model.addAttribute("damages", all);
        model.addAttribute("wide", drawing.size(GlassDrawing.Size.L).svg());
        model.addAttribute("small", drawing.size(GlassDrawing.Size.S).svg());
        return "damage/over-time";
    }

    @GetMapping("/damages/{id}/observe")
    String observe(@PathVariable UUID id, @ModelAttribute("form") DamageForm form, Model model) {
        var damage = reporting.damage(id);
        var seen = damage.observation();
        form.vehicleId = damage.vehicle();
        form.kind = damage.kind();
        form.xMm = seen.xMm();
        form.yMm = seen.yMm();
        form.toXMm = seen.toXMm();
        form.toYMm = seen.toYMm();
        form.diameterMm = seen.diameterMm();
        form.pitMm = seen.pitMm();
        form.longestLegMm = seen.longestLegMm();
        form.course = ShapeFields.course(seen.course());
        seen.legs().stream().map(ShapeFields.LegFields::of).forEach(form.legs::add);
        form.bodyMm = seen.bodyMm();
        form.arisenOn = seen.arisenOn();
        form.layers = seen.layers() == null ? "not-sure" : seen.layers().word();
        form.condition = seen.condition();
        showObserve(damage, form, model);
        return "damage/report";
    }

    @PostMapping("/damages/{id}/observe")
    String observe(
            @PathVariable UUID id,
            @Valid @ModelAttribute("form") DamageForm form,
            BindingResult errors,
            Model model,
            RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                var photos = forms.keepPhotos(form);
                var damage = reporting.observe(id, form.observe(Seen.GAUGE));
                var problems = forms.addPhotos(damage.id(), photos);
                after.addFlashAttribute(
                        "notice",
                        problems.isEmpty()
                                ? Notice.done("Observation added. The glass was judged again.")
                                : Notice.failed("The observation is added. " + problems));
                return "redirect:" + (form.inspection == null ? "/damages/" + id : form.backToInspection());
            } catch (Invalid e) {
                DamageForms.reject(e, errors);
            }
        }
        showObserve(reporting.damage(id), form, model);
        return "damage/report";
    }

    @PostMapping("/damages/{id}/another")
    String another(@PathVariable UUID id, RedirectAttributes after) {
        reporting.another(id);
        after.addFlashAttribute("notice", Notice.done("Kept as another damage."));
        return "redirect:/damages/" + id;
    }

    @PostMapping("/damages/{id}/withdraw")
    String withdraw(@PathVariable UUID id, @RequestParam(defaultValue = "") String reason, RedirectAttributes after) {
        reporting.withdraw(id, reason);
        after.addFlashAttribute("notice", Notice.done("Damage withdrawn."));
        return "redirect:/damages/" + id;
    }

    @PostMapping("/damages/{id}/photos")
    String addPhotos(
            @PathVariable UUID id, @RequestParam java.util.List<MultipartFile> photos, RedirectAttributes after) {
        var form = new DamageForm();
        form.photos = photos;
        var problems = forms.addPhotos(id, forms.keepPhotos(form));
        after.addFlashAttribute("notice", problems.isEmpty() ? Notice.done("Photos added.") : Notice.failed(problems));
        return "redirect:/damages/" + id;
    }

    private void showObserve(DamageView damage, DamageForm form, Model model) {
        model.addAttribute("legCount", ShapeFields.addEmptyLegs(form.legs));
        var vehicle = fleet.vehicle(damage.vehicle());
        model.addAttribute("damage", damage);
        model.addAttribute("vehicle", vehicle);
        model.addAttribute("action", "/damages/" + damage.id() + "/observe");
        model.addAttribute("expert", true);
        model.addAttribute("pageName", "Look again");
        model.addAttribute(
                "drawing",
                picture.ofVehicle(vehicle.id(), GlassDrawing.Size.M, true).svg());
        forms.choices(model, depots.depot(vehicle.depot()).country());
    }

    private static java.util.List<FindingRow> findings(DamageView damage, Question question) {
        return damage.verdict().findings().stream()
                .filter(finding -> finding.question() == question)
                .map(FindingRow::of)
                .toList();
    }
}
