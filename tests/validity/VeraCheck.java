import java.io.FileInputStream;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Date;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.logging.Level;
import java.util.logging.Logger;
import javax.xml.parsers.DocumentBuilderFactory;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;
import org.verapdf.pdfa.validation.profiles.ErrorArgument;
import org.verapdf.pdfa.validation.profiles.Profiles;
import org.verapdf.pdfa.validation.profiles.Rule;
import org.verapdf.pdfa.validation.profiles.RuleId;
import org.verapdf.pdfa.validation.profiles.ValidationProfile;
import org.verapdf.pdfa.validation.profiles.Variable;
import org.verapdf.pdfa.validation.validators.ValidatorFactory;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/**
 * Turns PDF files into lines that tell which rules of which profile they break.
 *
 * <p>Arguments: profiles separated by commas (PDFUA-1,PDFA-3A), then files. Output, fields separated by tabs:
 * {@code JUDGED profile file number-of-rules} once for each pair, after its
 * {@code BROKEN profile file clause-test times what-the-rule-asks first-place}.
 *
 * <p>The profiles are read with plain DOM, since the jar carries no XML binding.
 */
public class VeraCheck {
    private static final int PLACES_KEPT_PER_RULE = 1;

    public static void main(String[] arguments) throws Exception {
        Logger.getLogger("").setLevel(Level.SEVERE);
        VeraGreenfieldFoundryProvider.initialise();
        for (String name : arguments[0].split(",")) {
            ValidationProfile profile = profile(name);
            for (int i = 1; i < arguments.length; i++) {
                judge(name, profile, arguments[i]);
            }
        }
    }

    private static void judge(String name, ValidationProfile profile, String file) throws Exception {
        try (InputStream bytes = new FileInputStream(file);
                PDFAParser parser = Foundries.defaultInstance().createParser(bytes, profile.getPDFAFlavour())) {
            ValidationResult result =
                    ValidatorFactory.createValidator(profile, PLACES_KEPT_PER_RULE, false, true, false).validate(parser);
            for (Map.Entry<RuleId, Integer> broken : result.getFailedChecks().entrySet()) {
                RuleId id = broken.getKey();
                tell("BROKEN", name, file, id.getClause() + "-" + id.getTestNumber(), broken.getValue().toString(),
                        profile.getRuleByRuleId(id).getDescription(), place(result, id));
            }
            tell("JUDGED", name, file, String.valueOf(profile.getRules().size()));
        }
    }

    private static String place(ValidationResult result, RuleId id) {
        for (TestAssertion assertion : result.getTestAssertions()) {
            if (assertion.getStatus() == TestAssertion.Status.FAILED && assertion.getRuleId().equals(id)) {
                return assertion.getLocation().getContext();
            }
        }
        return "";
    }

    private static void tell(String... fields) {
        List<String> plain = new ArrayList<>();
        for (String field : fields) {
            plain.add(field.replaceAll("\\s+", " "));
        }
        System.out.println(String.join("\t", plain));
    }

    private static ValidationProfile profile(String name) throws Exception {
        String resource = "org/verapdf/pdfa/validation/" + name + ".xml";
        try (InputStream xml = VeraCheck.class.getClassLoader().getResourceAsStream(resource)) {
            if (xml == null) {
                throw new IllegalArgumentException("no profile " + name);
            }
            Element root = DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(xml).getDocumentElement();
            return Profiles.profileFromValues(
                    PDFAFlavour.valueOf(root.getAttribute("flavour")),
                    Profiles.profileDetailsFromValues(name, "", "", new Date()),
                    "", rules(root), variables(root));
        }
    }

    private static Set<Rule> rules(Element root) {
        Set<Rule> rules = new HashSet<>();
        for (Element rule : under(root, "rule")) {
            String deferred = rule.getAttribute("deferred");
            rules.add(Profiles.ruleFromValues(
                    ruleId(under(rule, "id").get(0)), rule.getAttribute("object"),
                    deferred.isEmpty() ? null : Boolean.valueOf(deferred), rule.getAttribute("tags"),
                    text(rule, "description"), text(rule, "test"),
                    Profiles.errorFromValues(text(rule, "message"), arguments(rule)), Collections.emptyList()));
        }
        return rules;
    }

    private static RuleId ruleId(Element id) {
        return Profiles.ruleIdFromValues(
                PDFAFlavour.Specification.valueOf(id.getAttribute("specification")),
                id.getAttribute("clause"), Integer.parseInt(id.getAttribute("testNumber")));
    }

    private static List<ErrorArgument> arguments(Element rule) {
        List<ErrorArgument> arguments = new ArrayList<>();
        for (Element argument : under(rule, "argument")) {
            arguments.add(new Argument(argument.getTextContent()));
        }
        return arguments;
    }

    private static Set<Variable> variables(Element root) {
        Set<Variable> variables = new HashSet<>();
        for (Element variable : under(root, "variable")) {
            variables.add(Profiles.variableFromValues(
                    variable.getAttribute("name"), variable.getAttribute("object"),
                    text(variable, "defaultValue"), text(variable, "value")));
        }
        return variables;
    }

    private static List<Element> under(Element element, String name) {
        NodeList nodes = element.getElementsByTagName(name);
        List<Element> elements = new ArrayList<>();
        for (int i = 0; i < nodes.getLength(); i++) {
            elements.add((Element) nodes.item(i));
        }
        return elements;
    }

    private static String text(Element element, String name) {
        List<Element> found = under(element, name);
        return found.isEmpty() ? "" : found.get(0).getTextContent();
    }

    /** What a rule's message quotes; only the expression matters for judging. */
    private static final class Argument implements ErrorArgument {
        private final String expression;

        Argument(String expression) {
            this.expression = expression;
        }

        @Override
        public String getArgument() {
            return expression;
        }

        @Override
        public String getName() {
            return null;
        }

        @Override
        public String getArgumentValue() {
            return null;
        }
    }
}
