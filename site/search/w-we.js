bayleaf.words("we",{"wet":"3:n"});
