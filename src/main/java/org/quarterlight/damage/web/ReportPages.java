package org.quarterlight.damage.web;

import jakarta.servlet.http.HttpServletResponse;
import jakarta.validation.Valid;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.quarterlight.damage.DamagePhotos;
import org.quarterlight.damage.DamageReporting;
import org.quarterlight.damage.GlassPicture;
import org.quarterlight.eligibility.Seen;
import org.quarterlight.fleet.CabCodes;
import org.quarterlight.fleet.Depots;
import org.quarterlight.fleet.Fleet;
import org.quarterlight.fleet.VehicleFilter;
import org.quarterlight.glass.GlassDrawing;
import org.quarterlight.kernel.Invalid;
import org.quarterlight.tenancy.Acting;
import org.quarterlight.tenancy.Role;
import org.quarterlight.web.DoneAt;
import org.quarterlight.web.Notice;
import org.quarterlight.web.PlateHeader;
import org.quarterlight.web.SliceRequest;
import org.springframework.http.HttpStatus;
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
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** The report of a damage: by somebody signed in, or by whoever opened the code in the cab. */
@Controller
class ReportPages {
    private final DamageReporting reporting;
    private final DamagePhotos photos;
    private final DamageForms forms;
    private final GlassPicture picture;
    private final Fleet fleet;
    private final Depots depots;
    private final CabCodes cabCodes;

    ReportPages(
            DamageReporting reporting,
            DamagePhotos photos,
            DamageForms forms,
            GlassPicture picture,
            Fleet fleet,
            Depots depots,
            CabCodes cabCodes) {
        this.reporting = reporting;
        this.photos = photos;
        this.forms = forms;
        this.picture = picture;
        this.fleet = fleet;
        this.depots = depots;
        this.cabCodes = cabCodes;
    }

    @InitBinder("form")
    void bindFields(WebDataBinder binder) {
        binder.initDirectFieldAccess();
    }

    @GetMapping("/report")
    String form(
            @RequestParam(required = false) @Nullable UUID vehicle,
            @RequestParam(required = false) @Nullable String q,
            @ModelAttribute("form") DamageForm form,
            Model model) {
        if (vehicle == null) {
            var search = q == null ? "" : q.trim();
            model.addAttribute("q", search);
            model.addAttribute("vehicles", fleet.vehicles(VehicleFilter.beginning(search), new SliceRequest(20, null)));
            return "damage/choose-vehicle";
        }
        form.vehicleId = vehicle;
        show(model, form, vehicle, "/report");
        return "damage/report";
    }

    @PostMapping("/report")
    String report(
            @Valid @ModelAttribute("form") DamageForm form,
            BindingResult errors,
            Model model,
            DoneAt done,
            RedirectAttributes after) {
        if (!errors.hasErrors()) {
            try {
                return told(form, usualSource(), "/damages/", done, after);
            } catch (Invalid e) {
                DamageForms.reject(e, errors);
            }
        }
        if (form.vehicleId == null) {
            return "redirect:/report";
        }
        show(model, form, form.vehicleId, "/report");
        return "damage/report";
    }

    /** What is shown while a report waits on a device for a network; the device takes this page along before. */
    @GetMapping("/report/kept")
    String kept(Model model) {
        model.addAttribute("again", "/report");
        return "damage/kept";
    }

    @GetMapping("/r/{code}/kept")
    String cabKept(@PathVariable String code, Model model, HttpServletResponse response) {
        var acting = cab();
        if (acting == null) {
            return ended(response);
        }
        model.addAttribute("again", "/r/" + code);
        model.addAttribute(
                "plateHeader",
                PlateHeader.ofPage(
                        acting.pattern(),
                        "Report damage",
                        fleet.vehicle(cabCodes.vehicleOf(acting)).registration()));
        return "damage/kept";
    }

    @GetMapping("/damages/{id}/answer")
    String answer(@PathVariable UUID id, Model model) {
        var damage = reporting.damage(id);
        model.addAttribute("damage", damage);
        model.addAttribute("sentence", reporting.forDriver(id));
        model.addAttribute("photoCount", photos.list(id).size());
        model.addAttribute("again", "/report?vehicle=" + damage.vehicle());
        return "damage/answer";
    }

    @GetMapping("/r/{code}")
    String cabForm(
            @PathVariable String code,
            @ModelAttribute("form") DamageForm form,
            Model model,
            HttpServletResponse response) {
        var acting = cab();
        if (acting == null) {
            return ended(response);
        }
        form.vehicleId = cabCodes.vehicleOf(acting);
        show(model, form, form.vehicleId, "/r/" + code);
        return "damage/report";
    }

    @PostMapping("/r/{code}")
    String cabReport(
            @PathVariable String code,
            @Valid @ModelAttribute("form") DamageForm form,
            BindingResult errors,
            Model model,
            HttpServletResponse response,
            DoneAt done,
            RedirectAttributes after) {
        var acting = cab();
        if (acting == null) {
            return ended(response);
        }
        form.vehicleId = cabCodes.vehicleOf(acting);
        if (!errors.hasErrors()) {
            try {
                return told(form, Seen.EYE, "/r/" + code + "/damages/", done, after);
            } catch (Invalid e) {
                DamageForms.reject(e, errors);
            }
        }
        show(model, form, form.vehicleId, "/r/" + code);
        return "damage/report";
    }

    @GetMapping("/r/{code}/damages/{id}/answer")
    String cabAnswer(@PathVariable String code, @PathVariable UUID id, Model model, HttpServletResponse response) {
        var acting = cab();
        if (acting == null) {
            return ended(response);
        }
        var damage = reporting.damage(id);
        model.addAttribute("damage", damage);
        model.addAttribute("sentence", reporting.forDriver(id));
        model.addAttribute("photoCount", photos.list(id).size());
        model.addAttribute("again", "/r/" + code);
        model.addAttribute("plateHeader", PlateHeader.ofPage(acting.pattern(), "Report damage", damage.registration()));
        return "damage/answer";
    }

    /** Answered at once: an address made of whatever was typed leads nowhere. */
    private static String ended(HttpServletResponse response) {
        response.setStatus(HttpStatus.NOT_FOUND.value());
        return "damage/code-ended";
    }

    private String told(DamageForm form, Seen usual, String path, DoneAt done, RedirectAttributes after) {
        var photos = forms.keepPhotos(form);
        var damage = reporting.report(form.report(usual, done.at()));
        var problems = forms.addPhotos(damage.id(), photos);
        if (!problems.isEmpty()) {
            after.addFlashAttribute("notice", Notice.failed("The damage is reported. " + problems));
        }
        return form.inspection != null && path.equals("/damages/")
                ? "redirect:" + form.backToInspection()
                : "redirect:" + path + damage.id() + "/answer";
    }

    private void show(Model model, DamageForm form, UUID vehicle, String action) {
        model.addAttribute("legCount", ShapeFields.addEmptyLegs(form.legs));
        var found = fleet.vehicle(vehicle);
        var acting = Acting.require();
        model.addAttribute("vehicle", found);
        model.addAttribute("action", action);
        model.addAttribute("expert", acting.isAny(Role.MANAGER, Role.TECHNICIAN));
        model.addAttribute(
                "drawing", picture.ofVehicle(vehicle, GlassDrawing.Size.S, true).svg());
        forms.choices(model, depots.depot(found.depot()).country());
        if (acting.is(Role.CAB_CODE)) {
            model.addAttribute(
                    "plateHeader", PlateHeader.ofPage(acting.pattern(), "Report damage", found.registration()));
        } else {
            model.addAttribute("pageName", "Report damage");
        }
    }

    private static Seen usualSource() {
        return Acting.require().is(Role.TECHNICIAN) ? Seen.GAUGE : Seen.EYE;
    }

    private static @Nullable Acting cab() {
        return Acting.current().filter(acting -> acting.is(Role.CAB_CODE)).orElse(null);
    }
}
