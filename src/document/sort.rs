//! The sorts of facts that a document tells, with the words that reports use for them.

/// What sort of thing a fact is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sort {
    /// The guide, and what stands at its head.
    Head,
    /// A vehicle that it is for, or what it is not for.
    Vehicle,
    /// A caution.
    Caution,
    /// What must be so before work starts.
    Before,
    /// A tool.
    Tool,
    /// What is known of a tool by itself: its number, the end of its calibration.
    ToolState,
    /// A part of the kit.
    Part,
    /// Hardware.
    Hardware,
    /// A choice of options.
    Option,
    /// A condition: with which options something is done.
    Condition,
    /// A step.
    Step,
    /// An operation.
    Operation,
    /// The order of steps, operations or fasteners.
    Order,
    /// A tightening value.
    Torque,
    /// How a tightening value is reached: passes, wrench, state of the thread.
    Tightening,
    /// Another value.
    Value,
    /// A wait.
    Wait,
    /// A check.
    Check,
    /// A departure from the supplier's sheet.
    Departure,
    /// A stop with a signature.
    Stop,
    /// A circuit.
    Circuit,
    /// A connector.
    Connector,
    /// Words.
    Words,
    /// A picture.
    Picture,
    /// Where values come from.
    Source,
    /// What revisions changed.
    Change,
}

impl Sort {
    /// The word for it, as reports use it.
    pub fn word(self) -> &'static str {
        match self {
            Sort::Head => "head",
            Sort::Vehicle => "vehicle",
            Sort::Caution => "caution",
            Sort::Before => "before",
            Sort::Tool => "tool",
            Sort::ToolState => "tool-state",
            Sort::Part => "part",
            Sort::Hardware => "hardware",
            Sort::Option => "option",
            Sort::Condition => "condition",
            Sort::Step => "step",
            Sort::Operation => "operation",
            Sort::Order => "order",
            Sort::Torque => "torque",
            Sort::Tightening => "tightening",
            Sort::Value => "value",
            Sort::Wait => "wait",
            Sort::Check => "check",
            Sort::Departure => "departure",
            Sort::Stop => "stop",
            Sort::Circuit => "circuit",
            Sort::Connector => "connector",
            Sort::Words => "words",
            Sort::Picture => "picture",
            Sort::Source => "source",
            Sort::Change => "change",
        }
    }
}
